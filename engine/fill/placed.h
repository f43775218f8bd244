#pragma once
// Turns chosen candidates into fillers of the plan, with colours and in the order of hanging. ProvedCover and
// FillWork call it.

#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/candidates/candidates.h"
#include "engine/fill/fill.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/filler_maker.h"
#include "engine/scene/scene.h"

#include <vector>

namespace petalproof::fill {

// The input of a filling. Refers to values that must outlive it.
struct Filling {
  const plan::LoadedPlan& base;  // with the fillers that stay
  const FillOptions& options;
  const scene::Scene& scene;  // of `base`
  const scene::FillerMaker& maker;
  const candidates::PlaceGrid& grid;
  const Pool& workers;
  std::vector<camera::Camera> cameras = {};  // of the shots, once they are known
};

// The chosen candidates as fillers, in the order of hanging. Sorts `chosen` into the same order.
std::vector<PlacedFiller> placed(const Filling& filling, std::vector<candidates::Candidate>& chosen);

// `base` with the added fillers.
plan::LoadedPlan filledPlan(const plan::LoadedPlan& base, const std::vector<PlacedFiller>& added);

// Ranks the added fillers, lists them together with the fillers that stay, and sums them up, all into
// `result`. `first`: the places that had to be hidden in the plan as given.
void listFillers(const Filling& filling, const candidates::MustHide& first, std::vector<PlacedFiller> added,
                 const std::vector<candidates::Candidate>& chosen, FillResult& result);

}  // namespace petalproof::fill
