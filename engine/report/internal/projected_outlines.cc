#include "engine/report/internal/projected_outlines.h"

namespace petalproof {
namespace {

PixelOutline projectedOutline(const Gap& gap, const Camera& camera) {
  PixelOutline outline;
  outline.reserve(gap.outline_mm.size());
  for (const glm::dvec2& corner : gap.outline_mm) {
    const auto pixel = project(camera, onBoardPlane({corner}));
    if (!pixel) return {};
    outline.push_back(pixel->px);
  }
  return outline;
}

}  // namespace

std::vector<PixelOutline> projectedOutlines(const GapsOfShot& found, const Camera& camera) {
  std::vector<PixelOutline> outlines;
  outlines.reserve(found.gaps.size());
  for (const Gap& gap : found.gaps) outlines.push_back(projectedOutline(gap, camera));
  return outlines;
}

}  // namespace petalproof
