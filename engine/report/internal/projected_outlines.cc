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
  outlines.reserve(found.holes.size());
  for (const gaps::Hole& hole : found.holes) outlines.push_back(projectedOutline(hole.whole, camera));
  return outlines;
}

}  // namespace petalproof::report
