#pragma once
// Chooses a colour for each filler from the colours of its kind. placed() calls it with the fillers in the
// order in which the search found them.

#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/candidates/candidates.h"
#include "engine/plan/plan.h"
#include "engine/scene/filler_maker.h"
#include "engine/scene/scene.h"

#include <vector>

namespace petalproof::fill {

// `scene`: with the fillers that stay; `cameras`: of the shots.
struct ColourTask {
  const plan::Plan& plan;
  const scene::Scene& scene;
  const scene::FillerMaker& maker;
  const std::vector<camera::Camera>& cameras;
  const Pool& workers;
};

// A colour for each filler, in their order: the colour that stands out least from what the shots show beside
// the filler (filler_surroundings.h). If there is another choice, a filler doesn't take the colour of the
// largest of the larger blooms beside it, nor form a clump: three fillers of a colour, old ones too, no two
// of them more than 300 mm apart. Of equal colours it takes the one that the plan names first.
std::vector<Colour> fillerColours(const std::vector<candidates::Candidate>& fillers, const ColourTask& task);

}  // namespace petalproof::fill
