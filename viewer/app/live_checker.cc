#include "viewer/app/live_checker.h"

#include "engine/base/pool.h"
#include "engine/base/stopping.h"
#include "engine/check/preview_check.h"
#include "engine/check/shot_checker.h"

#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <utility>

namespace petalproof::app {
namespace {

using Clock = std::chrono::steady_clock;

// The thread that starts full checks takes part in them. It lets the window and the previews go first too.
void lowerPriorityOfThread() {
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
  explicit FullCheck(const Pool& pool) : pool_(pool) {}

  ShotResult check(const LiveTask& task, const plan::Shot& shot, const check::ShotChecker::Step& step,
                   const std::stop_token& stop) {
    lookAt(task);
    auto done = checker_->check(shot, {}, scene_->colours, step, stop);
    ShotResult result{task.revision, true, nullptr, nullptr, {}};
    if (!done) {
      result.problem = done.problems.front().message;
      return result;
    }
    gaps::BareMap bare = gaps::emptyBareMap(scene_->panels);
    gaps::addTo(bare, checker_->seen(), scene_->panels, done.value->camera, pool_, stop);
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
    checker_.emplace(*plan_, *scene_, pool_);
  }

  const Pool& pool_;
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

// A task for the workers, and the token by which newer ones stop it.
struct LiveChecker::Asked {
  LiveTask task;
  std::stop_token outdated;
};

struct LiveChecker::Parts {
  explicit Parts(LiveOptions given)
      : options(std::move(given)),
        preview_pool(options.threads, Priority::high),
        full_pool(options.threads, Priority::low) {}

  LiveOptions options;
  Pool preview_pool;
  Pool full_pool;
  mutable std::mutex mutex;
  std::condition_variable_any asked;
  std::optional<Asked> for_preview;  // waiting
  std::optional<Asked> for_full;
  Clock::time_point asked_at;
  std::stop_source newest;  // stops the newest task's work
  bool previewing = false;
  bool checking = false;
  double share = 1;
  std::vector<LiveNews> news;
  std::jthread previewer;  // stopped at the end
  std::jthread reader;

  void tell(int shot, ShotResult result, const std::stop_token& outdated);
  void preview(const std::stop_token& ending);
  void previewAll(const Asked& asked_for, check::PreviewCheck& checker, const std::stop_token& ending);
  bool movesOn(const std::stop_token& outdated);
  void read(const std::stop_token& ending);
  void readAll(const Asked& asked_for, FullCheck& checker);
  std::optional<Asked> takeAfterRest(std::unique_lock<std::mutex>& lock, const std::stop_token& ending);
};

void LiveChecker::Parts::tell(int shot, ShotResult result, const std::stop_token& outdated) {
  {
    const std::lock_guard lock(mutex);
    // While the person goes on editing, a preview that is a moment old is better than none; an outdated
    // full check isn't.
    if (result.full && outdated.stop_requested()) return;
    news.push_back({shot, std::move(result)});
  }
  if (options.wake) options.wake();
}

void LiveChecker::Parts::previewAll(const Asked& asked_for, check::PreviewCheck& checker,
                                    const std::stop_token& ending) {
  const LiveTask& task = asked_for.task;
  for (const int shot : task.previews) {
    const auto chosen = shotOf(task, shot);
    if (!chosen) continue;
    auto done = checker.check(task.plan->plan, *task.scene, *chosen, ending);
    ShotResult result{task.revision, false, nullptr, nullptr, {}};
    if (done)
      result.check = std::make_shared<const check::ShotCheck>(std::move(*done.value));
    else
      result.problem = done.problems.front().message;
    tell(shot, std::move(result), asked_for.outdated);
    if (shot == task.previews.front() ? movesOn(asked_for.outdated) : asked_for.outdated.stop_requested())
      return;
  }
}

// Waits for a pause in the edits before shots other than the first are previewed; true where a newer task
// came.
bool LiveChecker::Parts::movesOn(const std::stop_token& outdated) {
  std::unique_lock lock(mutex);
  return asked.wait_for(lock, outdated, options.pause, [&] { return outdated.stop_requested(); });
}

void LiveChecker::Parts::preview(const std::stop_token& ending) {
  check::PreviewCheck checker(preview_pool, options.megapixels);
  std::unique_lock lock(mutex);
  while (asked.wait(lock, ending, [&] { return for_preview.has_value(); })) {
    const Asked taken = *std::exchange(for_preview, std::nullopt);
    previewing = true;
    lock.unlock();
    try {
      previewAll(taken, checker, ending);
    } catch (const Stopped&) {
    }
    lock.lock();
    previewing = false;
  }
}

// The next task, once no edit came for a while; nothing when it is time to end.
std::optional<LiveChecker::Asked> LiveChecker::Parts::takeAfterRest(std::unique_lock<std::mutex>& lock,
                                                                    const std::stop_token& ending) {
  while (asked.wait(lock, ending, [&] { return for_full.has_value(); })) {
    const auto due = asked_at + options.rest;
    const bool is_newer =
        asked.wait_until(lock, ending, due, [&] { return !for_full || asked_at + options.rest != due; });
    if (ending.stop_requested()) return std::nullopt;
    if (!is_newer) return std::exchange(for_full, std::nullopt);
  }
  return std::nullopt;
}

void LiveChecker::Parts::readAll(const Asked& asked_for, FullCheck& checker) {
  const LiveTask& task = asked_for.task;
  // Each shot is seen, searched and read.
  constexpr double steps_per_shot = 3;
  const double steps = steps_per_shot * static_cast<double>(task.full.size());
  double done = 0;
  const auto step = [&](const char*) {
    {
      const std::lock_guard lock(mutex);
      if (!asked_for.outdated.stop_requested()) share = std::min(0.99, done++ / steps);
    }
    if (options.wake) options.wake();
  };
  for (std::size_t k = 0; k < task.full.size(); ++k) {
    done = steps_per_shot * static_cast<double>(k);
    throwIfStopAsked(asked_for.outdated);
    if (const auto chosen = shotOf(task, task.full[k]))
      tell(task.full[k], checker.check(task, *chosen, step, asked_for.outdated), asked_for.outdated);
  }
}

void LiveChecker::Parts::read(const std::stop_token& ending) {
  lowerPriorityOfThread();
  FullCheck checker(full_pool);
  std::unique_lock lock(mutex);
  while (const std::optional<Asked> taken = takeAfterRest(lock, ending)) {
    checking = true;
    lock.unlock();
    try {
      readAll(*taken, checker);
    } catch (const Stopped&) {
    }
    lock.lock();
    checking = false;
    if (!taken->outdated.stop_requested()) share = 1;
    lock.unlock();
    if (options.wake) options.wake();
    lock.lock();
  }
}

LiveChecker::LiveChecker(LiveOptions options) : parts_(std::make_unique<Parts>(std::move(options))) {
  parts_->previewer =
      std::jthread([parts = parts_.get()](const std::stop_token& ending) { parts->preview(ending); });
  parts_->reader =
      std::jthread([parts = parts_.get()](const std::stop_token& ending) { parts->read(ending); });
}

LiveChecker::~LiveChecker() {
  parts_->previewer.request_stop();
  parts_->reader.request_stop();
  const std::lock_guard lock(parts_->mutex);
  parts_->newest.request_stop();
}

void LiveChecker::ask(LiveTask task) {
  {
    const std::lock_guard lock(parts_->mutex);
    parts_->newest.request_stop();
    parts_->newest = std::stop_source();
    parts_->asked_at = Clock::now();
    parts_->share = task.full.empty() ? 1 : 0;
    const std::stop_token token = parts_->newest.get_token();
    parts_->for_full.reset();
    if (!task.full.empty()) parts_->for_full = Asked{task, token};
    parts_->for_preview = Asked{std::move(task), token};
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
