#include "engine/report/internal/projected_outlines.h"

namespace petalproof {
namespace {

PixelOutline projectedOutline(const Gap& gap, const Camera& camera, glm::dvec2 origin_px) {
  PixelOutline outline;
  outline.reserve(gap.outline_mm.size());
  for (const glm::dvec2& corner : gap.outline_mm) {
    const auto pixel = project(camera, onBoardPlane({corner}));
    if (!pixel) return {};
    outline.push_back(origin_px + pixel->px);
  }
  return outline;
}

}  // namespace

std::vector<PixelOutline> projectedOutlines(const GapsOfShot& found, const Camera& camera,
                                            glm::dvec2 origin_px) {
  std::vector<PixelOutline> outlines;
  outlines.reserve(found.gaps.size());
  for (const Gap& gap : found.gaps) outlines.push_back(projectedOutline(gap, camera, origin_px));
  return outlines;
}

}  // namespace petalproof
