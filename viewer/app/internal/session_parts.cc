#include "viewer/app/internal/session_parts.h"

#include "viewer/app/internal/session_files.h"
#include "viewer/app/internal/session_work.h"

#include <algorithm>
#include <cstdint>
#include <limits>
#include <numeric>
#include <utility>
#include <variant>

namespace petalproof::app {
namespace {

LiveOptions liveOptions(const SessionOptions& options) {
  LiveOptions live;
  live.threads = options.threads;
  live.wake = options.wake;
  return live;
}

bool isEdit(const Action& action) {
  return std::holds_alternative<Edit>(action) || std::holds_alternative<Undo>(action) ||
         std::holds_alternative<Redo>(action);
}

bool endsStroke(const Action& action) {
  const auto* const edit = std::get_if<Edit>(&action);
  return !edit || edit->stroke == 0;
}

// The shots in the order in which to check them: the chosen shot first.
std::vector<int> checkOrder(const State& state) {
  std::vector<int> order(state.live.shots.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_partition(order.begin(), order.end(), [&](int shot) { return shot == state.shot; });
  return order;
}

// Actions that apply() carried out itself.
template <class NoRequest>
void carryOut(SessionParts&, const NoRequest&) {}

}  // namespace

SessionParts::SessionParts(SessionOptions given)
    : options(std::move(given)), pool(options.threads, Priority::low) {
  settings = loadSettings(options.state_folder);
  state.view.dark = settings.dark;
  state.view.scale = settings.scale;
  state.found = unsavedWork(options.state_folder);
  state.recent = settings.recent;
  if (options.live) live.emplace(liveOptions(options));
}

bool SessionParts::makeScene(State& next) {
  // A change of the shots leaves the wall as it is.
  if (next.live.scene && state.hasPlan() && sameButForShots(state.plan(), next.plan())) return true;
  auto scene = scenes.build(*next.now.plan);
  if (!scene) {
    next.problems = std::move(scene.problems);
    return false;
  }
  next.live.scene = std::make_shared<const scene::Scene>(std::move(*scene.value));
  return true;
}

void SessionParts::show(State next) {
  next.live.shots = resultsAfter(state.now, state.live.shots, next.now);
  next.live.bare.reset();
  state = std::move(next);
  sumBareMaps();
  askForChecks();
}

void SessionParts::askForChecks() {
  if (!live || !state.hasPlan()) return;
  LiveTask task{state.now.plan, state.live.scene, state.now.revision, {}, {}};
  for (const int shot : checkOrder(state)) {
    const ShotResult& known = state.live.shots[static_cast<std::size_t>(shot)];
    const bool current = known.revision == state.now.revision;
    if (!current) task.previews.push_back(shot);
    if (!current || !known.full) task.full.push_back(shot);
  }
  live->ask(std::move(task));
}

void SessionParts::sumBareMaps() {
  state.live.bare.reset();
  constexpr int most_shots = std::numeric_limits<std::uint8_t>::max();  // that a place of the map can count
  gaps::BareMap sum;
  for (const ShotResult& known : state.live.shots) {
    if (!known.bare || known.revision != state.now.revision) return;
    if (sum.shots.empty()) {
      sum = *known.bare;
      continue;
    }
    for (std::size_t k = 0; k < sum.shots.size() && k < known.bare->shots.size(); ++k)
      sum.shots[k] = static_cast<std::uint8_t>(std::min(most_shots, sum.shots[k] + known.bare->shots[k]));
  }
  if (!sum.shots.empty()) state.live.bare = std::make_shared<const gaps::BareMap>(std::move(sum));
}

void SessionParts::keepSafe(bool to_disk) {
  if (!journal) return;
  if (!state.changed()) {
    journal->discard();
    state.at_risk.clear();
    return;
  }
  last_tried = std::chrono::steady_clock::now();
  state.at_risk = journal->write(*state.now.plan, to_disk).value_or("");
  if (state.at_risk.empty() && to_disk) forgetTakenUp();
}

bool SessionParts::retryKeepingSafe() {
  const bool due = !state.at_risk.empty() && std::chrono::steady_clock::now() - last_tried >= options.retry;
  if (due) keepSafe(true);
  return due && state.at_risk.empty();
}

void SessionParts::dropJournal() {
  if (journal) journal->discard();
  state.at_risk.clear();
  forgetTakenUp();
}

void SessionParts::forgetTakenUp() {
  if (taken_up) throwAway(*taken_up);
  taken_up.reset();
}

void SessionParts::changePlan(const Action& action) {
  State next = app::apply(state, action);
  if (next.now.revision == state.now.revision) {
    state = std::move(next);
    return;
  }
  if (!makeScene(next)) {
    state.notice = next.problems.front().message;
    return;
  }
  show(std::move(next));
  keepSafe(endsStroke(action));
}

void SessionParts::remember(const ViewChoices& view) {
  if (settings.dark == view.dark && settings.scale == view.scale) return;
  settings.dark = view.dark;
  settings.scale = view.scale;
  saveSettings(settings, options.state_folder);
}

void SessionParts::perform(const Action& action) {
  if (isEdit(action) && filling) {
    state.notice = "fillers are being placed; stop that first";
    return;
  }
  if (isEdit(action)) return changePlan(action);
  const int shot = state.shot;
  state = apply(std::move(state), action);
  if (state.shot != shot) askForChecks();
  std::visit([this](const auto& request) { carryOut(*this, request); }, action);
  remember(state.view);
  state.recent = settings.recent;
}

}  // namespace petalproof::app
