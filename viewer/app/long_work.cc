#include "viewer/app/long_work.h"

#include "engine/advice/check_advice.h"
#include "engine/hands/fill_plan.h"

#ifdef __GLIBC__
#include <malloc.h>
#endif

#include <algorithm>
#include <utility>

namespace petalproof::app {
namespace {

// Thrown within a step to end the work; the work that threw it catches it.
struct Stopped {};

// Returns freed memory to the system: after the many small allocations of a search the allocator keeps
// gigabytes on a large wall.
void giveBackMemory() {
#ifdef __GLIBC__
  malloc_trim(0);
#endif
}

// A stopped search keeps nothing, so it ends at once without proving its fillers.
Result<fill::FillResult> fill(const plan::LoadedPlan& plan, fill::FillOptions options, JobReport& report) {
  const auto endIfStopped = [&report] {
    if (report.stopped()) throw Stopped{};
  };
  // Asked most often, deep in searches: what throws there ends them soonest.
  options.cancelled = [endIfStopped] {
    endIfStopped();
    return false;
  };
  options.now_and_then = endIfStopped;
  options.progress = [&report](double share, const std::string& step) {
    if (report.stopped()) throw Stopped{};
    // The checks within it end with 1 and "done" while the filling goes on.
    const Progress before = report.progress();
    const bool ends = share >= 1;
    report.tell(std::max(before.share, ends ? 0.0 : share), ends ? before.step : step);
  };
  const auto found = [&] {
    try {
      return hands::fillPlan(plan, options);
    } catch (const Stopped&) {
      fill::FillResult none;
      none.cancelled = true;
      return Result<fill::FillResult>::success(std::move(none));
    }
  };
  auto result = found();
  giveBackMemory();
  return result;
}

using Advised = Result<std::optional<advice::Advice>>;

Advised advise(const plan::LoadedPlan& plan, const scene::Scene& scene, const check::CheckOptions& options) {
  try {
    auto advised = advice::checkWithAdvice(plan, scene, options);
    if (!advised) return Advised::failure(std::move(advised.problems));
    return Advised::success(std::move(advised.value->advice));
  } catch (const Stopped&) {
    return Advised::success(std::nullopt);
  }
}

}  // namespace

std::unique_ptr<FillJob> startFilling(std::shared_ptr<const plan::LoadedPlan> plan, fill::FillOptions options,
                                      std::function<void()> wake) {
  return std::make_unique<FillJob>(
      [plan = std::move(plan), options = std::move(options)](JobReport& report) mutable {
        return fill(*plan, std::move(options), report);
      },
      std::move(wake));
}

FillNews newsOf(const fill::FillResult& result) {
  FillNews news;
  for (const fill::PlacedFiller& placed : result.fillers) {
    if (placed.old) continue;
    const plan::Placement& placement = placed.filler.placement;
    news.placed.push_back({placement.bloom, placement.at, placed.rank, placed.hides, placed.over});
  }
  news.left = result.left;
  news.totals = result.totals;
  news.notes = result.notes;
  news.at_least = result.at_least;
  news.cancelled = result.cancelled;
  return news;
}

std::unique_ptr<AdviceJob> startAdvising(std::shared_ptr<const plan::LoadedPlan> plan,
                                         std::shared_ptr<const scene::Scene> scene, std::string shot,
                                         int threads, std::function<void()> wake) {
  check::CheckOptions options;
  options.shots = {std::move(shot)};
  options.threads = threads;
  return std::make_unique<AdviceJob>(
      [plan = std::move(plan), scene = std::move(scene), options](JobReport& report) mutable {
        options.progress = [&report](double share, const std::string& step) {
          if (report.stopped()) throw Stopped{};
          report.tell(share, step);
        };
        options.now_and_then = [&report] {
          if (report.stopped()) throw Stopped{};
        };
        return advise(*plan, *scene, options);
      },
      std::move(wake));
}

}  // namespace petalproof::app
