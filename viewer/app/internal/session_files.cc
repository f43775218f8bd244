// Opening, saving, taking up what wasn't saved.

#include "viewer/app/internal/session_parts.h"

#include <fmt/format.h>

#include <memory>
#include <system_error>
#include <utility>

namespace petalproof::app {
namespace fs = std::filesystem;

void Session::Parts::open(std::shared_ptr<const plan::LoadedPlan> plan, fs::path path, bool on_file) {
  State next = opened(state, std::move(plan), std::move(path));
  if (!makeScene(next)) {
    state.problems = std::move(next.problems);
    return offerWorkOn(next.path, "Its plan can't be shown as it is saved.");
  }
  filling.reset();
  advising.reset();
  dropJournal();
  next.live.shots.clear();
  state.now = {};
  on_disk = next.path.empty() || !on_file ? std::nullopt : stampOf(next.path);
  if (!on_file) next.saved_revision = 0;
  next.found = next.path.empty() ? std::nullopt : workOn(next.path, options.state_folder);
  journal.emplace(next.path, options.state_folder);
  if (!next.path.empty()) {
    settings = withRecent(std::move(settings), next.path);
    saveSettings(settings, options.state_folder);
  }
  show(std::move(next));
  keepWatch();
  // What was made, not read, is already work.
  keepSafe(true);
}

// Work on a plan that can't be opened isn't lost with it.
void Session::Parts::offerWorkOn(const fs::path& path, const char* remark) {
  auto work = path.empty() ? std::nullopt : workOn(path, options.state_folder);
  if (!work) return;
  work->remark = work->remark.empty() ? remark : fmt::format("{} {}", remark, work->remark);
  state.found = std::move(work);
}

void Session::Parts::keepWatch() {
  watch.reset();
  if (!state.path.empty()) watch.emplace(state.path, options.wake);
}

// Its own saving stirs the file, too: then it is as it was saved.
bool Session::Parts::takeStir() {
  if (!watch || !watch->takeStir()) return false;
  carryOut(LookAtDisk{});
  return true;
}

void Session::Parts::carryOut(const OpenPlan& request) {
  std::error_code error;
  const fs::path path = fs::weakly_canonical(fs::absolute(request.path, error), error);
  auto loaded = plan::loadPlan(path);
  state.problems = loaded.problems;
  state.unread = loaded ? fs::path() : path;
  if (loaded) return open(std::make_shared<const plan::LoadedPlan>(std::move(*loaded.value)), path);
  offerWorkOn(path, fs::exists(path, error) ? "Its plan can't be read." : "Its plan isn't there any more.");
}

void Session::Parts::carryOut(const OpenDemo&) {
  auto loaded = plan::loadPlan(options.assets / "plans/demo.toml");
  state.problems = loaded.problems;
  if (loaded) open(std::make_shared<const plan::LoadedPlan>(std::move(*loaded.value)), {});
}

void Session::Parts::carryOut(const StartWith& request) {
  if (request.plan) open(request.plan, {});
}

void Session::Parts::carryOut(const TakeUpFoundWork& request) {
  if (!state.found) return;
  const FoundWork found = *std::exchange(state.found, std::nullopt);
  if (!request.take) return throwAway(found);
  const bool is_step = state.hasPlan() && !found.path.empty() && found.path == state.path;
  if (is_step)
    changePlan(Edit{ReplacePlan{found.plan, "take up what wasn't saved"}});
  else
    open(found.plan, found.path, false);
  // Refused: the problems say why, and the journal is offered at the next start.
  if (!state.hasPlan() || !(state.plan() == found.plan->plan)) return;
  state.found.reset();
  taken_up = found;
  // Only now: until here the work was in two journals rather than in none.
  if (state.at_risk.empty()) forgetTakenUp();
}

void Session::Parts::carryOut(const Save&) {
  if (state.path.empty()) {
    state.notice = "say where to save it";
    return;
  }
  carryOut(LookAtDisk{});
  if (state.changed_on_disk) return;
  // A file as its maker wrote it, with its comments, isn't written anew for nothing.
  if (state.changed())
    carryOut(SaveAs{state.path, true});
  else
    state.notice = "everything is saved";
}

void Session::Parts::carryOut(const SaveAs& request) {
  if (!state.hasPlan()) return;
  std::error_code error;
  const fs::path path = fs::weakly_canonical(fs::absolute(request.path, error), error);
  if (!request.replace && fs::exists(path, error)) {
    state.notice = fmt::format("{} is there already", path.filename().string());
    return;
  }
  auto saved = savePlan(*state.now.plan, path);
  if (!saved) {
    state.problems = std::move(saved.problems);
    return;
  }
  dropJournal();
  if (path != state.path) journal.emplace(path, options.state_folder);
  if (std::exchange(state.path, path) != path) keepWatch();
  state.saved_revision = state.now.revision;
  state.changed_on_disk = false;
  on_disk = saved.value->stamp;
  settings = withRecent(std::move(settings), path);
  saveSettings(settings, options.state_folder);
  state.notice = fmt::format("saved as {}", path.filename().string());
  if (saved.value->kept)
    state.notice += fmt::format("; the file before it, with its comments, is now {}",
                                saved.value->kept->filename().string());
}

void Session::Parts::carryOut(const ReadAgain&) {
  if (!state.path.empty()) carryOut(OpenPlan{state.path});
}

void Session::Parts::carryOut(const LookAtDisk&) {
  if (!state.at_risk.empty()) keepSafe(true);
  state.changed_on_disk = state.hasPlan() && !state.path.empty() && stampOf(state.path) != on_disk;
}

void Session::Parts::carryOut(const ClosePlan&) {
  dropJournal();
  journal.reset();
  watch.reset();
  filling.reset();
  advising.reset();
  State fresh;
  fresh.view = state.view;
  fresh.last_revision = state.last_revision;
  state = std::move(fresh);
  on_disk.reset();
}

}  // namespace petalproof::app
