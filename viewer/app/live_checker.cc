#include "viewer/app/live_checker.h"

#include "engine/check/preview_check.h"
#include "engine/check/shot_checker.h"

#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>

namespace petalproof::app {
namespace {

using Clock = std::chrono::steady_clock;

// Thrown within a step of the engine to end an outdated check; the worker that threw it catches it.
struct Superseded {};

// Lets the window and the previews go first: full checks can wait.
void lowerPriority() {
  constexpr int niceness = 10;  // halfway to the lowest priority
  ::setpriority(PRIO_PROCESS, static_cast<id_t>(::gettid()), niceness);
}

std::optional<plan::Shot> shotOf(const LiveTask& task, int shot) {
  const std::vector<plan::Shot> shots = shotsOf(task.plan->plan);
  if (shot < 0 || static_cast<std::size_t>(shot) >= shots.size()) return std::nullopt;
  return shots[static_cast<std::size_t>(shot)];
}

// Checks shots in full; keeps the wall's light for as long as the wall stays the same.
class FullCheck {
 public:
  explicit FullCheck(int threads) : threads_(threads) {}

  // `now_and_then` ends the check by throwing.
  ShotResult check(const LiveTask& task, const plan::Shot& shot, const check::ShotChecker::Step& step,
                   const std::function<void()>& now_and_then) {
    lookAt(task);
    checker_->callNowAndThen(now_and_then);
    auto done = checker_->check(shot, {}, scene_->colours, step);
    ShotResult result{task.revision, true, nullptr, nullptr, {}};
    if (!done) {
      result.problem = done.problems.front().message;
      return result;
    }
    gaps::BareMap bare = gaps::emptyBareMap(scene_->panels);
    gaps::addTo(bare, checker_->seen(), scene_->panels, done.value->camera, threads_, now_and_then);
    result.check = std::make_shared<const check::ShotCheck>(std::move(*done.value));
    result.bare = std::make_shared<const gaps::BareMap>(std::move(bare));
    return result;
  }

 private:
  void lookAt(const LiveTask& task) {
    if (plan_ && sameButForShots(plan_->plan, task.plan->plan)) return;
    checker_.reset();
    plan_ = task.plan;
    scene_ = task.scene;
    checker_.emplace(*plan_, *scene_, threads_);
  }

  int threads_;
  std::shared_ptr<const plan::LoadedPlan> plan_;
  std::shared_ptr<const scene::Scene> scene_;
  std::optional<check::ShotChecker> checker_;
};

}  // namespace

bool sameButForShots(const plan::Plan& a, const plan::Plan& b) {
  return a.title == b.title && a.units == b.units && a.seed == b.seed && a.variation == b.variation &&
         a.wall == b.wall && a.blooms == b.blooms && a.layouts == b.layouts && a.fillers == b.fillers &&
         a.hands == b.hands && a.reading == b.reading;
}

std::vector<ShotResult> resultsAfter(const Version& before, const std::vector<ShotResult>& known,
                                     const Version& after) {
  const std::vector<plan::Shot> shots = shotsOf(after.plan->plan);
  std::vector<ShotResult> kept(shots.size());
  if (!before.plan) return kept;
  const std::vector<plan::Shot> old_shots = shotsOf(before.plan->plan);
  const bool same_wall = sameButForShots(before.plan->plan, after.plan->plan);
  for (std::size_t k = 0; k < shots.size(); ++k)
    for (std::size_t old = 0; old < old_shots.size() && old < known.size(); ++old) {
      if (old_shots[old].name != shots[k].name) continue;
      kept[k] = known[old];
      if (same_wall && old_shots[old] == shots[k] && known[old].revision == before.revision)
        kept[k].revision = after.revision;
    }
  return kept;
}

struct LiveChecker::Parts {
  explicit Parts(LiveOptions given) : options(std::move(given)) {}

  LiveOptions options;
  mutable std::mutex mutex;
  std::condition_variable asked;
  std::optional<LiveTask> for_preview;  // waiting
  std::optional<LiveTask> for_full;
  Clock::time_point asked_at;
  std::uint64_t newest = 0;            // number of the newest task
  std::atomic<bool> stopping = false;  // also asked without the mutex
  bool previewing = false;
  bool checking = false;
  double share = 1;
  std::vector<LiveNews> news;
  std::thread previewer;
  std::thread reader;

  bool outdated(std::uint64_t task) const {
    const std::lock_guard lock(mutex);
    return stopping || task != newest;
  }

  void tell(int shot, ShotResult result, std::uint64_t task) {
    {
      const std::lock_guard lock(mutex);
      // While the person goes on editing, a preview that is a moment old is better than none; an outdated
      // full check isn't.
      if (result.full && task != newest) return;
      news.push_back({shot, std::move(result)});
    }
    if (options.wake) options.wake();
  }

  void preview();
  void previewAll(const LiveTask& task, std::uint64_t number, check::PreviewCheck& checker);
  bool movesOn(std::uint64_t task);
  void read();
  void readAll(const LiveTask& task, std::uint64_t number, FullCheck& checker);
  bool waitForRest(std::unique_lock<std::mutex>& lock);
};

void LiveChecker::Parts::previewAll(const LiveTask& task, std::uint64_t number,
                                    check::PreviewCheck& checker) {
  for (const int shot : task.previews) {
    const auto chosen = shotOf(task, shot);
    if (!chosen) continue;
    auto done = checker.check(task.plan->plan, *task.scene, *chosen);
    ShotResult result{task.revision, false, nullptr, nullptr, {}};
    if (done)
      result.check = std::make_shared<const check::ShotCheck>(std::move(*done.value));
    else
      result.problem = done.problems.front().message;
    tell(shot, std::move(result), number);
    if (shot == task.previews.front() ? movesOn(number) : outdated(number)) return;
  }
}

// Waits for a pause in the edits before shots other than the first are previewed; true where a newer task
// came.
bool LiveChecker::Parts::movesOn(std::uint64_t task) {
  std::unique_lock lock(mutex);
  return asked.wait_for(lock, options.pause, [&] { return stopping || task != newest; });
}

void LiveChecker::Parts::preview() {
  check::PreviewCheck checker(options.threads, options.megapixels);
  checker.callNowAndThen([this] {
    if (stopping) throw Superseded{};
  });
  std::unique_lock lock(mutex);
  while (true) {
    previewing = false;
    asked.wait(lock, [&] { return stopping || for_preview; });
    if (stopping) return;
    const LiveTask task = *std::exchange(for_preview, std::nullopt);
    const std::uint64_t number = newest;
    previewing = true;
    lock.unlock();
    try {
      previewAll(task, number, checker);
    } catch (const Superseded&) {
    }
    lock.lock();
  }
}

// Waits for a task and for a rest from edits; false when it is time to stop.
bool LiveChecker::Parts::waitForRest(std::unique_lock<std::mutex>& lock) {
  while (true) {
    asked.wait(lock, [&] { return stopping || for_full; });
    if (stopping) return false;
    const auto due = asked_at + options.rest;
    if (Clock::now() >= due && !previewing && !for_preview) return true;
    asked.wait_until(lock, std::max(due, Clock::now() + std::chrono::milliseconds(10)));
  }
}

void LiveChecker::Parts::readAll(const LiveTask& task, std::uint64_t number, FullCheck& checker) {
  // Each shot is seen, searched and read.
  constexpr double steps_per_shot = 3;
  const double steps = steps_per_shot * static_cast<double>(task.full.size());
  double done = 0;
  const auto step = [&](const char*) {
    if (outdated(number)) throw Superseded{};
    {
      const std::lock_guard lock(mutex);
      share = std::min(0.99, done++ / steps);
    }
    if (options.wake) options.wake();
  };
  const auto now_and_then = [&] {
    if (outdated(number)) throw Superseded{};
  };
  for (std::size_t k = 0; k < task.full.size(); ++k) {
    done = steps_per_shot * static_cast<double>(k);
    const auto chosen = shotOf(task, task.full[k]);
    if (chosen) tell(task.full[k], checker.check(task, *chosen, step, now_and_then), number);
    if (outdated(number)) return;
  }
}

void LiveChecker::Parts::read() {
  lowerPriority();
  FullCheck checker(options.threads);
  std::unique_lock lock(mutex);
  while (waitForRest(lock)) {
    const LiveTask task = *std::exchange(for_full, std::nullopt);
    const std::uint64_t number = newest;
    checking = true;
    lock.unlock();
    try {
      readAll(task, number, checker);
    } catch (const Superseded&) {
    }
    lock.lock();
    checking = false;
    if (number == newest) share = 1;
    lock.unlock();
    if (options.wake) options.wake();
    lock.lock();
  }
}

LiveChecker::LiveChecker(LiveOptions options) : parts_(std::make_unique<Parts>(std::move(options))) {
  parts_->previewer = std::thread([parts = parts_.get()] { parts->preview(); });
  parts_->reader = std::thread([parts = parts_.get()] { parts->read(); });
}

LiveChecker::~LiveChecker() {
  {
    const std::lock_guard lock(parts_->mutex);
    parts_->stopping = true;
  }
  parts_->asked.notify_all();
  parts_->previewer.join();
  parts_->reader.join();
}

void LiveChecker::ask(LiveTask task) {
  {
    const std::lock_guard lock(parts_->mutex);
    ++parts_->newest;
    parts_->asked_at = Clock::now();
    parts_->share = task.full.empty() ? 1 : 0;
    parts_->for_full.reset();
    if (!task.full.empty()) parts_->for_full = task;
    parts_->for_preview = std::move(task);
  }
  parts_->asked.notify_all();
}

std::vector<LiveNews> LiveChecker::take() {
  const std::lock_guard lock(parts_->mutex);
  return std::exchange(parts_->news, {});
}

double LiveChecker::progress() const {
  const std::lock_guard lock(parts_->mutex);
  return parts_->share;
}

bool LiveChecker::busy() const {
  const std::lock_guard lock(parts_->mutex);
  return parts_->for_preview || parts_->for_full || parts_->previewing || parts_->checking;
}

}  // namespace petalproof::app
