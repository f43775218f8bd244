#pragma once
// Which of its kind's colours each filler takes.

#include "engine/camera/camera.h"
#include "engine/candidates/candidates.h"
#include "engine/plan/plan.h"
#include "engine/scene/filler_maker.h"
#include "engine/scene/scene.h"

#include <vector>

namespace petalproof::fill {

// What a colour is chosen by. `scene`: with the fillers that stay; `cameras`: of the shots.
struct ColourTask {
  const plan::Plan& plan;
  const scene::Scene& scene;
  const scene::FillerMaker& maker;
  const std::vector<camera::Camera>& cameras;
  int threads = 0;
};

// For each filler, in their order. The one that stands out least from what the shots show beside it
// (filler_surroundings.h), but not the twin of the largest of the larger blooms beside it, nor the third of a
// clump: three of one colour, no two of them more than 300 mm apart, those that hang already too; if another
// will do. Of equals the one that the plan names first.
std::vector<Colour> fillerColours(const std::vector<candidates::Candidate>& fillers, const ColourTask& task);

}  // namespace petalproof::fill
