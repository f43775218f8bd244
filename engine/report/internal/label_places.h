#pragma once
// Finds places for number labels beside the outlines that they name: inside the picture, no label over
// another.

#include "engine/report/internal/drawing.h"

#include <optional>
#include <vector>

namespace petalproof::report {

struct LabelRequest {
  std::vector<glm::dvec2> outline;  // the named thing's, in pixels; at least a point
  glm::dvec2 size_px{0};
};

struct LabelPlace {
  PixelRect rect;
  glm::dvec2 tip{0};  // where its leader line meets the outline
};

// In the order of the requests, so that the first have the best places. Labels stay within `inside`, keep
// `apart_px` from each other and, where that is possible, off the outlines of `keep_clear` and of the
// requests. A label without room gets no place.
std::vector<std::optional<LabelPlace>> placeLabels(const std::vector<LabelRequest>& requests,
                                                   const std::vector<std::vector<glm::dvec2>>& keep_clear,
                                                   const PixelRect& inside, double apart_px = 4);

}  // namespace petalproof::report
