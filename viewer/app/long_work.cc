#include "viewer/app/long_work.h"

#include "engine/advice/check_advice.h"
#include "engine/base/stopping.h"
#include "engine/hands/fill_plan.h"

#ifdef __GLIBC__
#include <malloc.h>
#endif

#include <algorithm>
#include <utility>

namespace petalproof::app {
namespace {

// Returns freed memory to the system: after the many small allocations of a search the allocator keeps
// gigabytes on a large wall.
void giveBackMemory() {
#ifdef __GLIBC__
  malloc_trim(0);
#endif
}

using Filled = Result<std::optional<fill::FillResult>>;

Filled fillUnlessStopped(const plan::LoadedPlan& plan, const Pool& pool, const fill::FillOptions& options) {
  try {
    auto filled = hands::fillPlan(plan, pool, options);
    if (!filled) return Filled::failure(std::move(filled.problems));
    return Filled::success(std::move(*filled.value), std::move(filled.warnings));
  } catch (const Stopped&) {
    return Filled::success(std::nullopt);
  }
}

Filled fill(const plan::LoadedPlan& plan, fill::FillOptions options, const Pool& pool, JobReport& report) {
  options.stop = report.stopToken();
  options.progress = [&report](double share, const std::string& what) {
    // The checks within it end with 1 and "done" while the filling goes on.
    const Progress before = report.progress();
    const bool ends = share >= 1;
    report.tell(std::max(before.share, ends ? 0.0 : share), ends ? before.what : what);
  };
  Filled result = fillUnlessStopped(plan, pool, options);
  giveBackMemory();
  return result;
}

using Advised = Result<std::optional<advice::Advice>>;

Advised advise(const plan::LoadedPlan& plan, const scene::Scene& scene, const Pool& pool,
               const check::CheckOptions& options) {
  try {
    auto advised = advice::checkWithAdvice(plan, scene, pool, options);
    if (!advised) return Advised::failure(std::move(advised.problems));
    return Advised::success(std::move(advised.value->advice));
  } catch (const Stopped&) {
    return Advised::success(std::nullopt);
  }
}

}  // namespace

std::unique_ptr<FillJob> startFilling(std::shared_ptr<const plan::LoadedPlan> plan, fill::FillOptions options,
                                      const Pool& pool, std::function<void()> wake) {
  return std::make_unique<FillJob>(
      [plan = std::move(plan), options = std::move(options), &pool](JobReport& report) mutable {
        return fill(*plan, std::move(options), pool, report);
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
  return news;
}

std::unique_ptr<AdviceJob> startAdvising(std::shared_ptr<const plan::LoadedPlan> plan,
                                         std::shared_ptr<const scene::Scene> scene, std::string shot,
                                         const Pool& pool, std::function<void()> wake) {
  check::CheckOptions options;
  options.shots = {std::move(shot)};
  return std::make_unique<AdviceJob>(
      [plan = std::move(plan), scene = std::move(scene), &pool, options](JobReport& report) mutable {
        options.progress = [&report](double share, const std::string& what) { report.tell(share, what); };
        options.stop = report.stopToken();
        return advise(*plan, *scene, pool, options);
      },
      std::move(wake));
}

}  // namespace petalproof::app
