#include "viewer/app/internal/session_work.h"

#include "viewer/app/internal/session_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace petalproof::app {

void carryOut(SessionParts& session, const PlaceFillers& request) {
  if (!session.state.hasPlan() || session.filling) return;
  fill::FillOptions wanted;
  wanted.hide = request.hide;
  wanted.start_over = request.start_over;
  session.state.filled.reset();
  session.state.notice.clear();
  session.state.filling = Progress{};
  session.filling = startFilling(session.state.now.plan, wanted, session.pool, session.options.wake);
}

void carryOut(SessionParts& session, const StopPlacing&) {
  if (session.filling) session.filling->stop();
}

void carryOut(SessionParts& session, const FindAdvice&) {
  const std::vector<plan::Shot> shots =
      session.state.hasPlan() ? shotsOf(session.state.plan()) : std::vector<plan::Shot>{};
  if (session.advising || static_cast<std::size_t>(session.state.shot) >= shots.size()) return;
  session.state.advice.reset();
  session.state.advising = Progress{};
  session.asked_advice = {session.state.now.revision, session.state.shot, {}};
  session.advising = startAdvising(session.state.now.plan, session.state.live.scene,
                                   shots[static_cast<std::size_t>(session.state.shot)].name, session.pool,
                                   session.options.wake);
}

void carryOut(SessionParts& session, const StopAdvising&) {
  if (session.advising) session.advising->stop();
}

bool takeAdvice(SessionParts& session) {
  if (!session.advising) return false;
  session.state.advising = session.advising->progress();
  auto found = session.advising->take();
  if (!found) return true;
  session.advising.reset();
  session.state.advising.reset();
  if (!*found) session.state.problems = std::move(found->problems);
  if (!*found || !*found->value) return true;
  session.asked_advice.advice = std::move(**found->value);
  session.state.advice = session.asked_advice;
  return true;
}

void carryOut(SessionParts& session, const WritePictures&) {
  if (session.drawing || !session.state.hasPlan()) return;
  auto check = wholeCheck(session.state);
  if (session.state.path.empty()) {
    session.state.notice = "save the plan first: the pictures go beside it";
  } else if (!check) {
    session.state.notice = "every shot has to be checked in full first";
  } else {
    session.state.drawing = Progress{};
    session.drawing = startPictures(std::move(*check), session.state.now.plan, session.state.live.scene,
                                    session.state.path, session.pool, session.options.wake);
  }
}

void carryOut(SessionParts& session, const StopPictures&) {
  if (session.drawing) session.drawing->stop();
}

bool takePictures(SessionParts& session) {
  if (!session.drawing) return false;
  session.state.drawing = session.drawing->progress();
  const auto written = session.drawing->take();
  if (!written) return true;
  session.drawing.reset();
  session.state.drawing.reset();
  if (*written)
    session.state.notice =
        fmt::format("{} pictures are in {}", written->value->count, written->value->folder.string());
  else
    session.state.problems = written->problems;
  return true;
}

bool takeFillers(SessionParts& session) {
  if (!session.filling) return false;
  session.state.filling = session.filling->progress();
  auto result = session.filling->take();
  if (!result) return true;
  session.filling.reset();
  session.state.filling.reset();
  if (!*result) {
    session.state.problems = std::move(result->problems);
    return true;
  }
  const std::optional<fill::FillResult>& filled = *result->value;
  if (!filled) {
    session.state.notice = "stopped; nothing was placed";
    return true;
  }
  if (filled->count > 0) session.changePlan(Edit{SetFillers{filled->filled.plan.fillers}});
  session.state.filled = newsOf(*filled);
  return true;
}

bool takeChecks(SessionParts& session) {
  if (!session.live) return false;
  std::vector<LiveNews> news = session.live->take();
  bool taken = false;
  for (LiveNews& checked : news) {
    if (checked.shot < 0 || static_cast<std::size_t>(checked.shot) >= session.state.live.shots.size())
      continue;
    ShotResult& known = session.state.live.shots[static_cast<std::size_t>(checked.shot)];
    const bool current = checked.result.revision == session.state.now.revision;
    const bool known_is_current = known.revision == session.state.now.revision && known.check;
    if (known_is_current && (!current || (known.full && !checked.result.full))) continue;
    if (!current && checked.result.full) continue;
    // Gaps are numbered anew in each check.
    if (session.state.gap && session.state.gap->shot == checked.shot)
      session.state.gap = known.check && checked.result.check
                              ? sameGapIn(*checked.result.check, *session.state.gap, *known.check)
                              : std::nullopt;
    known = std::move(checked.result);
    taken = true;
  }
  const double progress = session.live->progress();
  const bool moved = progress != session.state.live.progress;
  session.state.live.progress = progress;
  if (taken) session.sumBareMaps();
  return taken || moved;
}

}  // namespace petalproof::app
