#include "viewer/app/internal/session_files.h"

#include "viewer/app/internal/session_parts.h"

#include <fmt/format.h>

#include <memory>
#include <system_error>
#include <utility>

namespace petalproof::app {
namespace fs = std::filesystem;

namespace {

// Offers the work in the journal of a plan that can't be opened.
void offerWorkOn(SessionParts& session, const fs::path& path, const char* remark) {
  auto work = path.empty() ? std::nullopt : workOn(path, session.options.state_folder);
  if (!work) return;
  work->remark = work->remark.empty() ? remark : fmt::format("{} {}", remark, work->remark);
  session.state.found = std::move(work);
}

void watchFile(SessionParts& session) {
  session.watch.reset();
  if (!session.state.path.empty()) session.watch.emplace(session.state.path, session.options.wake);
}

// Makes the plan the open plan. `on_file`: its file holds the plan as it is; otherwise it is work to be saved
// there.
void openPlan(SessionParts& session, std::shared_ptr<const plan::LoadedPlan> plan, fs::path path,
              bool on_file = true) {
  State next = opened(session.state, std::move(plan), std::move(path));
  if (!session.makeScene(next)) {
    session.state.problems = std::move(next.problems);
    return offerWorkOn(session, next.path, "Its plan can't be shown as it is saved.");
  }
  session.filling.reset();
  session.advising.reset();
  session.dropJournal();
  next.live.shots.clear();
  session.state.now = {};
  session.on_disk = next.path.empty() || !on_file ? std::nullopt : stampOf(next.path);
  if (!on_file) next.saved_revision = 0;
  next.found = next.path.empty() ? std::nullopt : workOn(next.path, session.options.state_folder);
  session.journal.emplace(next.path, session.options.state_folder);
  if (!next.path.empty()) {
    session.settings = withRecent(std::move(session.settings), next.path);
    saveSettings(session.settings, session.options.state_folder);
  }
  session.show(std::move(next));
  watchFile(session);
  // A plan that was made, not read, is unsaved work from the start.
  session.keepSafe(true);
}

}  // namespace

// Also called after this session saved the plan; the file's stamp then equals `on_disk`.
bool takeFileChange(SessionParts& session) {
  if (!session.watch || !session.watch->takeChange()) return false;
  carryOut(session, LookAtDisk{});
  return true;
}

void carryOut(SessionParts& session, const OpenPlan& request) {
  std::error_code error;
  const fs::path path = fs::weakly_canonical(fs::absolute(request.path, error), error);
  auto loaded = plan::loadPlan(path);
  session.state.problems = loaded.problems;
  session.state.unread = loaded ? fs::path() : path;
  if (loaded)
    return openPlan(session, std::make_shared<const plan::LoadedPlan>(std::move(*loaded.value)), path);
  offerWorkOn(session, path,
              fs::exists(path, error) ? "Its plan can't be read." : "Its plan isn't there any more.");
}

void carryOut(SessionParts& session, const OpenDemo&) {
  auto loaded = plan::loadPlan(session.options.assets / "plans/demo.toml");
  session.state.problems = loaded.problems;
  if (loaded) openPlan(session, std::make_shared<const plan::LoadedPlan>(std::move(*loaded.value)), {});
}

void carryOut(SessionParts& session, const StartWith& request) {
  if (request.plan) openPlan(session, request.plan, {});
}

void carryOut(SessionParts& session, const TakeUpFoundWork& request) {
  if (!session.state.found) return;
  const FoundWork found = *std::exchange(session.state.found, std::nullopt);
  if (!request.take) return throwAway(found);
  const bool is_step = session.state.hasPlan() && !found.path.empty() && found.path == session.state.path;
  if (is_step)
    session.changePlan(Edit{ReplacePlan{found.plan, "take up what wasn't saved"}});
  else
    openPlan(session, found.plan, found.path, false);
  // Where the plan was refused, the problems say why, and the journal is offered at the next start.
  if (!session.state.hasPlan() || !(session.state.plan() == found.plan->plan)) return;
  session.state.found.reset();
  session.taken_up = found;
  // The old journal goes last, so that the work is in at least one journal at any time.
  if (session.state.at_risk.empty()) session.forgetTakenUp();
}

void carryOut(SessionParts& session, const Save&) {
  if (session.state.path.empty()) {
    session.state.notice = "say where to save it";
    return;
  }
  carryOut(session, LookAtDisk{});
  if (session.state.changed_on_disk) return;
  // An unchanged plan isn't written again: its file keeps the comments of whoever wrote it.
  if (session.state.changed())
    carryOut(session, SaveAs{session.state.path, true});
  else
    session.state.notice = "everything is saved";
}

void carryOut(SessionParts& session, const SaveAs& request) {
  if (!session.state.hasPlan()) return;
  std::error_code error;
  const fs::path path = fs::weakly_canonical(fs::absolute(request.path, error), error);
  if (!request.replace && fs::exists(path, error)) {
    session.state.notice = fmt::format("{} is there already", path.filename().string());
    return;
  }
  auto saved = savePlan(*session.state.now.plan, path);
  if (!saved) {
    session.state.problems = std::move(saved.problems);
    return;
  }
  session.dropJournal();
  if (path != session.state.path) session.journal.emplace(path, session.options.state_folder);
  if (std::exchange(session.state.path, path) != path) watchFile(session);
  session.state.saved_revision = session.state.now.revision;
  session.state.changed_on_disk = false;
  session.on_disk = saved.value->stamp;
  session.settings = withRecent(std::move(session.settings), path);
  saveSettings(session.settings, session.options.state_folder);
  session.state.notice = fmt::format("saved as {}", path.filename().string());
  if (saved.value->kept)
    session.state.notice += fmt::format("; the file before it, with its comments, is now {}",
                                        saved.value->kept->filename().string());
}

void carryOut(SessionParts& session, const ReadAgain&) {
  if (!session.state.path.empty()) carryOut(session, OpenPlan{session.state.path});
}

void carryOut(SessionParts& session, const LookAtDisk&) {
  if (!session.state.at_risk.empty()) session.keepSafe(true);
  session.state.changed_on_disk = session.state.hasPlan() && !session.state.path.empty() &&
                                  stampOf(session.state.path) != session.on_disk;
}

void carryOut(SessionParts& session, const ClosePlan&) {
  session.dropJournal();
  session.journal.reset();
  session.watch.reset();
  session.filling.reset();
  session.advising.reset();
  State fresh;
  fresh.view = session.state.view;
  fresh.last_revision = session.state.last_revision;
  session.state = std::move(fresh);
  session.on_disk.reset();
}

}  // namespace petalproof::app
