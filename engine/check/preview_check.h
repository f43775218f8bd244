#pragma once
// Where a shot sees bare board, fast enough to keep step with the hand.

#include "engine/base/pool.h"
#include "engine/base/problem.h"
#include "engine/check/shot_sight.h"
#include "engine/plan/plan.h"
#include "engine/scene/scene.h"

#include <stop_token>

namespace petalproof::check {

// The camera with a picture of about so many megapixels (same frame, fewer pixels); itself where it has no
// more.
camera::Camera atPreviewSize(const camera::Camera& camera, double megapixels);

// Checks shots at a smaller size, without readings. Gaps are those of a coarser look: their places and sizes
// hold to a pixel's footprint; the thinnest are missed.
class PreviewCheck {
 public:
  // Refers to `pool`, which must outlive it.
  explicit PreviewCheck(const Pool& pool, double megapixels = 2) : sight_(pool), megapixels_(megapixels) {}

  // With the worse of its lenses, as ShotChecker. Problems: a camera that can't be.
  Result<ShotCheck> check(const plan::Plan& plan, const scene::Scene& scene, const plan::Shot& shot,
                          const std::stop_token& stop = {});

 private:
  ShotSight sight_;
  double megapixels_;
};

}  // namespace petalproof::check
