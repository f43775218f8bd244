#pragma once
// Places for number labels beside what they name: inside the picture, none over another.

#include "engine/report/internal/drawing.h"

#include <optional>
#include <vector>

namespace petalproof::report {

struct LabelRequest {
  std::vector<glm::dvec2> outline;  // what is named, in pixels; at least one point
  glm::dvec2 size_px{0};
};

struct LabelPlace {
  PixelRect rect;
  glm::dvec2 tip{0};  // where its leader line meets the outline
};

// In the order of the requests, so that the first have the best places. Labels stay within `inside`, keep
// `apart_px` from each other and, where that is possible, off the outlines of `keep_clear` and of the
// requests. Nothing where there is no room left.
std::vector<std::optional<LabelPlace>> placeLabels(const std::vector<LabelRequest>& requests,
                                                   const std::vector<std::vector<glm::dvec2>>& keep_clear,
                                                   const PixelRect& inside, double apart_px = 4);

}  // namespace petalproof::report
