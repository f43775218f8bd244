// What the workers are asked for, and what they bring.

#include "viewer/app/internal/session_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace petalproof::app {

void Session::Parts::carryOut(const PlaceFillers& request) {
  if (!state.hasPlan() || filling) return;
  fill::FillOptions wanted;
  wanted.hide = request.hide;
  wanted.start_over = request.start_over;
  wanted.threads = options.threads;
  state.filled.reset();
  state.notice.clear();
  state.filling = Progress{};
  filling = startFilling(state.now.plan, wanted, options.wake);
}

void Session::Parts::carryOut(const StopPlacing&) {
  if (filling) filling->stop();
}

void Session::Parts::carryOut(const FindAdvice&) {
  const std::vector<plan::Shot> shots = state.hasPlan() ? shotsOf(state.plan()) : std::vector<plan::Shot>{};
  if (advising || static_cast<std::size_t>(state.shot) >= shots.size()) return;
  state.advice.reset();
  state.advising = Progress{};
  asked_advice = {state.now.revision, state.shot, {}};
  advising = startAdvising(state.now.plan, state.live.scene, shots[static_cast<std::size_t>(state.shot)].name,
                           options.threads, options.wake);
}

void Session::Parts::carryOut(const StopAdvising&) {
  if (advising) advising->stop();
}

bool Session::Parts::takeAdvice() {
  if (!advising) return false;
  state.advising = advising->progress();
  auto found = advising->take();
  if (!found) return true;
  advising.reset();
  state.advising.reset();
  if (!*found) state.problems = std::move(found->problems);
  if (!*found || !*found->value) return true;
  asked_advice.advice = std::move(**found->value);
  state.advice = asked_advice;
  return true;
}

void Session::Parts::carryOut(const WritePictures&) {
  if (drawing || !state.hasPlan()) return;
  auto check = wholeCheck(state);
  if (state.path.empty()) {
    state.notice = "save the plan first: the pictures go beside it";
  } else if (!check) {
    state.notice = "every shot has to be checked in full first";
  } else {
    state.drawing = Progress{};
    drawing = startPictures(std::move(*check), state.now.plan, state.live.scene, state.path, options.threads,
                            options.wake);
  }
}

void Session::Parts::carryOut(const StopPictures&) {
  if (drawing) drawing->stop();
}

bool Session::Parts::takePictures() {
  if (!drawing) return false;
  state.drawing = drawing->progress();
  const auto written = drawing->take();
  if (!written) return true;
  drawing.reset();
  state.drawing.reset();
  if (*written)
    state.notice =
        fmt::format("{} pictures are in {}", written->value->count, written->value->folder.string());
  else
    state.problems = written->problems;
  return true;
}

bool Session::Parts::takeFillers() {
  if (!filling) return false;
  state.filling = filling->progress();
  auto result = filling->take();
  if (!result) return true;
  filling.reset();
  state.filling.reset();
  if (!*result) {
    state.problems = std::move(result->problems);
    return true;
  }
  if (result->value->cancelled) {
    state.notice = "stopped; nothing was placed";
    return true;
  }
  if (result->value->count > 0) changePlan(Edit{SetFillers{result->value->filled.plan.fillers}});
  state.filled = newsOf(*result->value);
  return true;
}

// Where bare board is seen from, once every shot is checked in full.
void Session::Parts::sumUpBare() {
  state.live.bare.reset();
  gaps::BareMap sum;
  for (const ShotResult& known : state.live.shots) {
    if (!known.bare || known.revision != state.now.revision) return;
    if (sum.shots.empty()) {
      sum = *known.bare;
      continue;
    }
    constexpr int most = 255;
    for (std::size_t k = 0; k < sum.shots.size() && k < known.bare->shots.size(); ++k)
      sum.shots[k] = static_cast<std::uint8_t>(std::min(most, sum.shots[k] + known.bare->shots[k]));
  }
  if (!sum.shots.empty()) state.live.bare = std::make_shared<const gaps::BareMap>(std::move(sum));
}

bool Session::Parts::takeNews() {
  if (!live) return false;
  std::vector<LiveNews> news = live->take();
  bool taken = false;
  for (LiveNews& one : news) {
    if (one.shot < 0 || static_cast<std::size_t>(one.shot) >= state.live.shots.size()) continue;
    ShotResult& known = state.live.shots[static_cast<std::size_t>(one.shot)];
    const bool current = one.result.revision == state.now.revision;
    const bool known_is_current = known.revision == state.now.revision && known.check;
    if (known_is_current && (!current || (known.full && !one.result.full))) continue;
    if (!current && one.result.full) continue;
    // Gaps of another check have other numbers.
    if (state.gap && state.gap->shot == one.shot)
      state.gap = known.check && one.result.check ? sameGapIn(*one.result.check, *state.gap, *known.check)
                                                  : std::nullopt;
    known = std::move(one.result);
    taken = true;
  }
  const double progress = live->progress();
  const bool moved = progress != state.live.progress;
  state.live.progress = progress;
  if (taken) sumUpBare();
  return taken || moved;
}

}  // namespace petalproof::app
