#include "viewer/app/session.h"

#include "engine/scene/scene_keeper.h"
#include "viewer/app/journal.h"
#include "viewer/app/live_checker.h"
#include "viewer/app/long_work.h"
#include "viewer/app/plan_file.h"
#include "viewer/app/settings.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <optional>
#include <utility>

namespace petalproof::app {
namespace fs = std::filesystem;

struct Session::Parts {
  explicit Parts(SessionOptions given);

  SessionOptions options;
  State state;
  Settings settings;
  SceneKeeper scenes;
  std::optional<Journal> journal;
  std::optional<FileStamp> on_disk;  // the plan's file as it was read or saved
  std::unique_ptr<FillJob> filling;
  std::unique_ptr<AdviceJob> advising;
  ShotAdviceNews asked_advice;  // what the advice will be on
  std::optional<LiveChecker> live;

  void perform(const Action& action);
  void changePlan(const Action& action);
  void show(State next);
  bool makeScene(State& next);
  void askForChecks();
  void keepSafe(bool to_disk);
  void open(std::shared_ptr<const LoadedPlan> plan, fs::path path);
  void remember(const ViewChoices& view);

  void carryOut(const OpenPlan& request);
  void carryOut(const OpenDemo& request);
  void carryOut(const StartWith& request);
  void carryOut(const TakeUpFoundWork& request);
  void carryOut(const Save& request);
  void carryOut(const SaveAs& request);
  void carryOut(const ReadAgain& request);
  void carryOut(const LookAtDisk& request);
  void carryOut(const ClosePlan& request);
  void carryOut(const PlaceFillers& request);
  void carryOut(const StopPlacing& request);
  void carryOut(const FindAdvice& request);
  void carryOut(const StopAdvising& request);
  template <class Other>
  void carryOut(const Other&) {}

  bool takeNews();
  bool takeFillers();
  bool takeAdvice();
  void sumUpBare();
};

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

// --- the plan as it is -----------------------------------------------------------------------------------

bool Session::Parts::makeScene(State& next) {
  auto scene = scenes.build(*next.now.plan);
  if (!scene) {
    next.problems = std::move(scene.problems);
    return false;
  }
  next.live.scene = std::make_shared<const Scene>(std::move(*scene.value));
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
  if (!state.changed()) return journal->discard();
  if (const auto wrong = journal->write(*state.now.plan, to_disk)) state.notice = *wrong;
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

// --- files -----------------------------------------------------------------------------------------------

void Session::Parts::open(std::shared_ptr<const LoadedPlan> plan, fs::path path) {
  State next = opened(state, std::move(plan), std::move(path));
  if (!makeScene(next)) {
    state.problems = std::move(next.problems);
    return;
  }
  filling.reset();
  advising.reset();
  if (journal) journal->discard();
  next.live.shots.clear();
  state.now = {};
  on_disk = next.path.empty() ? std::nullopt : stampOf(next.path);
  next.found = next.path.empty() ? std::nullopt : workOn(next.path, options.state_folder);
  journal.emplace(next.path, options.state_folder);
  if (!next.path.empty()) {
    settings = withRecent(std::move(settings), next.path);
    saveSettings(settings, options.state_folder);
  }
  show(std::move(next));
  // What was made, not read, is already work.
  keepSafe(true);
}

void Session::Parts::carryOut(const OpenPlan& request) {
  std::error_code error;
  const fs::path path = fs::weakly_canonical(fs::absolute(request.path, error), error);
  auto loaded = loadPlan(path);
  state.problems = loaded.problems;
  if (loaded) open(std::make_shared<const LoadedPlan>(std::move(*loaded.value)), path);
}

void Session::Parts::carryOut(const OpenDemo&) {
  auto loaded = loadPlan(options.assets / "plans/demo.toml");
  state.problems = loaded.problems;
  if (loaded) open(std::make_shared<const LoadedPlan>(std::move(*loaded.value)), {});
}

void Session::Parts::carryOut(const StartWith& request) {
  if (request.plan) open(request.plan, {});
}

void Session::Parts::carryOut(const TakeUpFoundWork& request) {
  if (!state.found) return;
  const FoundWork found = *std::exchange(state.found, std::nullopt);
  std::error_code error;
  if (request.take) {
    if (found.path != state.path || !state.hasPlan()) {
      auto saved = found.path.empty() ? Result<LoadedPlan>{} : loadPlan(found.path);
      open(saved ? std::make_shared<const LoadedPlan>(std::move(*saved.value)) : found.plan, found.path);
    }
    changePlan(Edit{ReplacePlan{found.plan, "take up what wasn't saved"}});
    state.found.reset();
  }
  // Only now: until here the work was in two journals rather than in none.
  if (!request.take || state.hasPlan()) fs::remove(found.journal, error);
}

void Session::Parts::carryOut(const Save&) {
  if (state.path.empty()) {
    state.notice = "say where to save it";
    return;
  }
  carryOut(LookAtDisk{});
  if (!state.changed_on_disk) carryOut(SaveAs{state.path, true});
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
  if (journal) journal->discard();
  if (path != state.path) journal.emplace(path, options.state_folder);
  state.path = path;
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
  state.changed_on_disk = state.hasPlan() && !state.path.empty() && stampOf(state.path) != on_disk;
}

void Session::Parts::carryOut(const ClosePlan&) {
  if (journal) journal->discard();
  journal.reset();
  filling.reset();
  advising.reset();
  State fresh;
  fresh.view = state.view;
  fresh.last_revision = state.last_revision;
  state = std::move(fresh);
  on_disk.reset();
}

// --- workers ---------------------------------------------------------------------------------------------

void Session::Parts::carryOut(const PlaceFillers& request) {
  if (!state.hasPlan() || filling) return;
  FillOptions wanted;
  wanted.hide = request.hide;
  wanted.start_over = request.start_over;
  wanted.threads = options.threads;
  state.filled.reset();
  state.filling = Progress{};
  filling = startFilling(state.now.plan, wanted, options.wake);
}

void Session::Parts::carryOut(const StopPlacing&) {
  if (filling) filling->stop();
}

void Session::Parts::carryOut(const FindAdvice&) {
  const std::vector<Shot> shots = state.hasPlan() ? shotsOf(state.plan()) : std::vector<Shot>{};
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
  BareMap sum;
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
  if (!sum.shots.empty()) state.live.bare = std::make_shared<const BareMap>(std::move(sum));
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
    known = std::move(one.result);
    taken = true;
  }
  const double progress = live->progress();
  const bool moved = progress != state.live.progress;
  state.live.progress = progress;
  if (taken) sumUpBare();
  return taken || moved;
}

Session::Session(SessionOptions options) : parts_(std::make_unique<Parts>(std::move(options))) {}
Session::~Session() = default;

const State& Session::state() const { return parts_->state; }
void Session::perform(const Action& action) { parts_->perform(action); }

bool Session::poll() {
  const bool news = parts_->takeNews();
  const bool advice = parts_->takeAdvice();
  return parts_->takeFillers() || advice || news;
}

}  // namespace petalproof::app
