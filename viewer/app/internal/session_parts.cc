#include "viewer/app/session.h"

#include "viewer/app/internal/session_parts.h"

#include <algorithm>
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

// The chosen shot first.
std::vector<int> inOrder(const State& state) {
  std::vector<int> order(state.live.shots.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_partition(order.begin(), order.end(), [&](int shot) { return shot == state.shot; });
  return order;
}

}  // namespace

Session::Parts::Parts(SessionOptions given) : options(std::move(given)) {
  settings = loadSettings(options.state_folder);
  state.view.dark = settings.dark;
  state.view.scale = settings.scale;
  state.found = unsavedWork(options.state_folder);
  state.recent = settings.recent;
  if (options.live) live.emplace(liveOptions(options));
}

bool Session::Parts::makeScene(State& next) {
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

// Precondition: the next state has its scene.
void Session::Parts::show(State next) {
  next.live.shots = resultsAfter(state.now, state.live.shots, next.now);
  next.live.bare.reset();
  state = std::move(next);
  sumUpBare();
  askForChecks();
}

void Session::Parts::askForChecks() {
  if (!live || !state.hasPlan()) return;
  LiveTask task{state.now.plan, state.live.scene, state.now.revision, {}, {}};
  for (const int shot : inOrder(state)) {
    const ShotResult& known = state.live.shots[static_cast<std::size_t>(shot)];
    const bool current = known.revision == state.now.revision;
    if (!current) task.previews.push_back(shot);
    if (!current || !known.full) task.full.push_back(shot);
  }
  live->ask(std::move(task));
}

void Session::Parts::keepSafe(bool to_disk) {
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

// True where work is safe now that wasn't: there is room on the disk again.
bool Session::Parts::retryKeepingSafe() {
  const bool due = !state.at_risk.empty() && std::chrono::steady_clock::now() - last_tried >= options.retry;
  if (due) keepSafe(true);
  return due && state.at_risk.empty();
}

// Everything is saved, or let go of.
void Session::Parts::dropJournal() {
  if (journal) journal->discard();
  state.at_risk.clear();
  forgetTakenUp();
}

void Session::Parts::forgetTakenUp() {
  if (taken_up) throwAway(*taken_up);
  taken_up.reset();
}

void Session::Parts::changePlan(const Action& action) {
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

void Session::Parts::remember(const ViewChoices& view) {
  if (settings.dark == view.dark && settings.scale == view.scale) return;
  settings.dark = view.dark;
  settings.scale = view.scale;
  saveSettings(settings, options.state_folder);
}

void Session::Parts::perform(const Action& action) {
  if (isEdit(action) && filling) {
    state.notice = "fillers are being placed; stop that first";
    return;
  }
  if (isEdit(action)) return changePlan(action);
  const int shot = state.shot;
  state = apply(std::move(state), action);
  if (state.shot != shot) askForChecks();
  std::visit([this](const auto& request) { carryOut(request); }, action);
  remember(state.view);
  state.recent = settings.recent;
}

Session::Session(SessionOptions options) : parts_(std::make_unique<Parts>(std::move(options))) {}
Session::~Session() = default;

const State& Session::state() const { return parts_->state; }
void Session::perform(const Action& action) { parts_->perform(action); }

bool Session::poll() {
  const bool news = parts_->takeNews();
  const bool advice = parts_->takeAdvice();
  const bool pictures = parts_->takePictures();
  const bool stir = parts_->takeStir();
  const bool safe_again = parts_->retryKeepingSafe();
  return parts_->takeFillers() || safe_again || stir || pictures || advice || news;
}

}  // namespace petalproof::app
