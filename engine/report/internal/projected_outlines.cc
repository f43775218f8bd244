#include "engine/report/internal/projected_outlines.h"

#include "engine/camera/projection.h"

namespace petalproof::report {
namespace {

PixelOutline projectedOutline(const gaps::Gap& gap, const camera::Camera& camera) {
  PixelOutline outline;
  outline.reserve(gap.outline_mm.size());
  for (const glm::dvec2& corner : gap.outline_mm) {
    const auto pixel = camera::project(camera, onBoardPlane({corner}));
    if (!pixel) return {};
    outline.push_back(pixel->px);
  }
  return outline;
}

}  // namespace

std::vector<PixelOutline> projectedOutlines(const gaps::GapsOfShot& found, const camera::Camera& camera) {
  std::vector<PixelOutline> outlines;
  outlines.reserve(found.gaps.size());
  for (const gaps::Gap& gap : found.gaps) outlines.push_back(projectedOutline(gap, camera));
  return outlines;
}

}  // namespace petalproof::report
