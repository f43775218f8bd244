#include "engine/check/preview_check.h"

#include "engine/camera/lens.h"
#include "engine/camera/projection.h"
#include "engine/check/internal/worse_end.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace petalproof::check {

camera::Camera atPreviewSize(const camera::Camera& camera, double megapixels) {
  const double pixels = static_cast<double>(camera.width_px) * camera.height_px;
  const double scale = std::sqrt(megapixels * 1e6 / pixels);
  if (scale >= 1) return camera;
  return camera::scaledTo(camera, std::max(1, static_cast<int>(std::lround(scale * camera.width_px))));
}

Result<ShotCheck> PreviewCheck::check(const plan::Plan& plan, const scene::Scene& scene,
                                      const plan::Shot& shot, const std::stop_token& stop) {
  std::optional<ShotCheck> worst;
  for (const plan::Shot& end : camera::zoomEnds(shot)) {
    const auto camera = camera::makeCamera(end, camera::wallFrameOf(plan));
    if (!camera) return Result<ShotCheck>::failure(camera.problems);
    ShotCheck done = sight_.see({plan, scene, end, atPreviewSize(*camera.value, megapixels_)}, {}, stop);
    if (!worst || worse(done, *worst)) worst = std::move(done);
  }
  worst->shot = shot;
  return Result<ShotCheck>::success(std::move(*worst));
}

}  // namespace petalproof::check
