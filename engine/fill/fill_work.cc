#include "engine/fill/fill_work.h"

#include "engine/fill/internal/day_list.h"
#include "engine/fill/internal/hidden_by_answer.h"
#include "engine/fill/internal/lower_bound.h"
#include "engine/fill/proof.h"
#include "engine/fill/why_left.h"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace petalproof::fill {
KeptPlan keptPlan(const plan::LoadedPlan& given, bool start_over) {
  KeptPlan kept{given, {}};
  kept.loaded.plan.fillers.clear();
  kept.loaded.places.fillers.clear();
  for (std::size_t k = 0; k < given.plan.fillers.size(); ++k) {
    const plan::Filler& filler = given.plan.fillers[k];
    if (start_over && !filler.fixed) continue;
    kept.loaded.plan.fillers.push_back(filler);
    if (k < given.places.fillers.size()) kept.loaded.places.fillers.push_back(given.places.fillers[k]);
    kept.numbers.push_back(static_cast<int>(k));
  }
  return kept;
}

CleanWalls wallsAsked(const FillOptions& options, const plan::Plan& plan) {
  if (!plan.hands) return {0, 1};
  return options.walls.value_or(CleanWalls{});
}

FillWork::FillWork(const KeptPlan& kept, const FillOptions& options, const scene::Scene& scene,
                   const scene::FillerMaker& maker, const Pool& workers)
    : kept_(kept),
      options_(options),
      asked_(wallsAsked(options, kept.loaded.plan)),
      grid_(candidates::placeGridOf(scene.panels)),
      filling_{kept.loaded, options, scene, maker, grid_, workers},
      checker_(kept.loaded, scene, workers, options.hide != Hide::all || options.readings) {
  sites_.emplace(kept.loaded.plan, scene, maker, grid_, options.stop);
  const FillProgress placing{options, 0.3, asked_.clean > 0 ? 0.15 : 0.4};
  task_.emplace(candidates::SearchTask{
      kept.loaded.plan, scene, maker, *sites_, workers, options.seed.value_or(kept.loaded.plan.seed),
      [placing](double done) { placing.say(done, "placing fillers"); }, options.stop});
}

std::vector<Problem> FillWork::findWhatIsBare() {
  const auto say = [this](double done, const std::string& doing) {
    FillProgress{options_, 0, 0.3}.say(done, doing);
  };
  Result<CheckedPlan> before =
      checkPlan(filling_, kept_.loaded, filling_.scene, {true, picture::Lighting::full, say}, checker_);
  if (!before) return std::move(before.problems);
  result_.before = std::move(before.value->check);
  for (const check::ShotCheck& shot : result_.before.shots) filling_.cameras.push_back(shot.camera);
  first_ = std::move(before.value->must_hide);
  bare_before_ = std::move(before.value->bare);
  cover_.emplace(filling_, *task_, checker_, ProvedCover::Before{result_.before.shots, bare_before_, first_},
                 [this](picture::Lighting lighting, double done, const std::string& doing) {
                   progressOfProof(lighting).say(done, doing);
                 });
  return {};
}

FillProgress FillWork::progressOfProof(light::Lighting lighting) const {
  const bool is_rough = lighting == light::Lighting::rough;
  if (for_hands_) return {options_, 0.85, 0.15};
  if (asked_.clean > 0)
    return is_rough ? FillProgress{options_, 0.45, 0.05} : FillProgress{options_, 0.5, 0.1};
  return is_rough ? FillProgress{options_, 0.7, 0.1} : FillProgress{options_, 0.8, 0.2};
}

FillResult FillWork::result() {
  CheckedPlan proof = cover_->takeProof();
  const std::vector<candidates::Candidate>& chosen = cover_->chosen();
  result_.left =
      leftWithReasons(*task_, proof.check, options_.hide, chosen, cover_->search().wantedBeyondStock());
  if (auto note = noteOnLeafPlates(kept_.loaded.plan, result_.left))
    result_.notes.push_back(std::move(*note));
  const HiddenByAnswer hidden(filling_, first_, result_.before.shots, chosen);
  result_.at_least = fewestFillers(
      first_, *task_, [&](std::uint32_t eye, glm::dvec2 place) { return hidden.howNear(eye, place); });
  result_.after = std::move(proof.check);
  result_.filled = std::move(proof.plan);
  result_.kept = kept_.numbers;
  listFillers(filling_, first_, cover_->placed(), chosen, result_);
  if (options_.progress) options_.progress(1, "done");
  return std::move(result_);
}

}  // namespace petalproof::fill
