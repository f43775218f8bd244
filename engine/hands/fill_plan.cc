#include "engine/hands/fill_plan.h"

#include "engine/fill/fill_work.h"
#include "engine/fill/proof.h"
#include "engine/hands/internal/for_hands.h"
#include "engine/hands/internal/hands_search.h"
#include "engine/scene/filler_maker.h"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace petalproof::hands {
namespace {

constexpr int most_proofs_for_hands = 3;  // each finds fewer gaps than the last

HandsTask handsTaskOf(const fill::FillWork& work) {
  const plan::LoadedPlan& loaded = work.kept().loaded;
  const fill::FillOptions& options = work.options();
  return {loaded,
          work.filling().scene,
          work.before().shots,
          scene::handErrorsOf(*loaded.plan.hands, loaded.plan.units),
          options.hide,
          work.task().seed,
          work.filling().workers,
          options.stop};
}

PerfectHands perfectHandsOf(fill::FillWork& work) {
  PerfectHands perfect{work.cover().chosen(), work.cover().hidden(), {}};
  for (const fill::GapLeft& left : fill::gapsLeft(work.cover().proof().check, work.options().hide))
    perfect.stays.push_back(left.gap->centre_mm);
  return perfect;
}

// Proves the fillers for hands. Beside additional fillers a gap that was lost may read: then it must be
// hidden too.
std::vector<Problem> proveForHands(fill::FillWork& work, HandsSearch& search, std::size_t gaps_that_stay) {
  for (int round = 0; round < most_proofs_for_hands; ++round) {
    Result<bool> checked = work.cover().proveThese(search.chosen());
    if (!checked) return std::move(checked.problems);
    if (!*checked.value ||
        fill::gapsLeft(work.cover().proof().check, work.options().hide).size() <= gaps_that_stay)
      return {};
    search.hideToo(work.cover().proof().must_hide);
  }
  return {};
}

// Reports how builds that no filler was found for come out, and why fewer than asked for are clean.
std::vector<Problem> reportTo(fill::FillWork& work, const HandsTask& task, const HandsSearch& search,
                              const PerfectHands& perfect, std::size_t by_perfect_hands) {
  Result<scene::Scene> scene = work.cover().scene();
  if (!scene) return std::move(scene.problems);
  fill::HandsReport report = reportOnHands(task, *scene.value, work.asked(), perfect.stays);
  report.costs = static_cast<int>(work.cover().placed().size()) - static_cast<int>(by_perfect_hands);
  if (auto why = search.whyNotClean(report)) work.addNote(std::move(*why));
  work.setHands(report);
  return {};
}

// Finds and proves fillers for the plan's own hands, if it gives any.
std::vector<Problem> fillForHands(fill::FillWork& work) {
  const plan::LoadedPlan& loaded = work.kept().loaded;
  const fill::FillOptions& options = work.options();
  if (!loaded.plan.hands && options.walls && options.walls->clean > 0)
    work.addNote("the plan has no [hands], so hands are taken to be perfect");
  if (work.asked().clean == 0) return {};
  work.proofsAreForHands();
  const HandsTask task = handsTaskOf(work);
  const PerfectHands perfect = perfectHandsOf(work);
  const auto say = [&](double done) {
    fill::FillProgress{options, 0.6, 0.25}.say(done, "simulating builds");
  };
  HandsSearch search(task, work.task(), work.asked(), perfect, say);
  const std::size_t by_perfect_hands = work.cover().placed().size();
  if (std::vector<Problem> problems = search.search(); !problems.empty()) return problems;
  if (std::vector<Problem> problems = proveForHands(work, search, perfect.stays.size()); !problems.empty())
    return problems;
  return reportTo(work, task, search, perfect, by_perfect_hands);
}

Result<fill::FillResult> fillKept(const fill::KeptPlan& kept, const Pool& workers,
                                  const fill::FillOptions& options) {
  Result<scene::FillerMaker> maker = scene::FillerMaker::forPlan(kept.loaded);
  if (!maker) return Result<fill::FillResult>::failure(std::move(maker.problems));
  Result<scene::Scene> scene = scene::buildScene(kept.loaded);
  if (!scene) return Result<fill::FillResult>::failure(std::move(scene.problems));
  fill::FillWork work(kept, options, *scene.value, *maker.value, workers);
  std::vector<Problem> problems = work.findWhatIsBare();
  if (problems.empty()) problems = work.fill();
  if (problems.empty()) problems = fillForHands(work);
  if (!problems.empty()) return Result<fill::FillResult>::failure(std::move(problems));
  return Result<fill::FillResult>::success(work.result(), std::move(scene.warnings));
}

// The same options, but the reported share never falls: repeated looks and proofs go over their stretch
// again.
fill::FillOptions withProgressOnwards(fill::FillOptions options) {
  if (options.progress)
    options.progress = [say = std::move(options.progress), most = 0.0](double done,
                                                                       const std::string& doing) mutable {
      most = std::max(most, done);
      say(most, doing);
    };
  return options;
}

}  // namespace

Result<fill::FillResult> fillPlan(const plan::LoadedPlan& loaded, const Pool& workers,
                                  const fill::FillOptions& options) {
  return fillKept(fill::keptPlan(loaded, options.start_over), workers, withProgressOnwards(options));
}

}  // namespace petalproof::hands
