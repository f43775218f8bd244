#pragma once
// Chosen candidates as fillers of the plan.

#include "engine/camera/camera.h"
#include "engine/filler/fill.h"
#include "engine/filler/internal/candidates.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/filler_maker.h"
#include "engine/scene/scene.h"

#include <vector>

namespace petalproof {

// What a filling is made of; refers to what must outlive it.
struct Filling {
  const LoadedPlan& base;  // with the fillers that stay
  const FillOptions& options;
  const Scene& scene;  // of it
  const FillerMaker& maker;
  const PlaceGrid& grid;
  std::vector<Camera> cameras = {};  // of the shots, once they are known
};

// With their colours, in the order of hanging; `chosen` is brought into that order.
std::vector<PlacedFiller> placed(const Filling& filling, std::vector<Candidate>& chosen);

LoadedPlan filledPlan(const LoadedPlan& base, const std::vector<PlacedFiller>& added);

// The added fillers ranked and listed with those that stay, and what they add up to, as in FillResult.
// `first`: what had to be hidden in the plan as given. Call within Workers::run.
void listFillers(const Filling& filling, const MustHide& first, std::vector<PlacedFiller> added,
                 const std::vector<Candidate>& chosen, FillResult& result);

}  // namespace petalproof
