#pragma once
// Chosen candidates as fillers of the plan.

#include "engine/camera/camera.h"
#include "engine/candidates/candidates.h"
#include "engine/fill/fill.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/filler_maker.h"
#include "engine/scene/scene.h"

#include <vector>

namespace petalproof::fill {

// What a filling is made of; refers to what must outlive it.
struct Filling {
  const plan::LoadedPlan& base;  // with the fillers that stay
  const FillOptions& options;
  const scene::Scene& scene;  // of it
  const scene::FillerMaker& maker;
  const candidates::PlaceGrid& grid;
  std::vector<camera::Camera> cameras = {};  // of the shots, once they are known
};

// With their colours, in the order of hanging; `chosen` is brought into that order.
std::vector<PlacedFiller> placed(const Filling& filling, std::vector<candidates::Candidate>& chosen);

plan::LoadedPlan filledPlan(const plan::LoadedPlan& base, const std::vector<PlacedFiller>& added);

// The added fillers ranked and listed with those that stay, and what they add up to, as in FillResult.
// `first`: what had to be hidden in the plan as given. Call within Workers::run.
void listFillers(const Filling& filling, const candidates::MustHide& first, std::vector<PlacedFiller> added,
                 const std::vector<candidates::Candidate>& chosen, FillResult& result);

}  // namespace petalproof::fill
