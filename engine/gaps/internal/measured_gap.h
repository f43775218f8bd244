#pragma once
// A connected set of bare pixels as measured.

#include "engine/gaps/gaps.h"
#include "engine/gaps/internal/inscribed_circle.h"
#include "engine/gaps/internal/length.h"
#include "engine/gaps/internal/pixel_region.h"

#include <glm/vec2.hpp>

#include <span>
#include <vector>

namespace petalproof::gaps {

// Memory that is kept from one to the next.
struct GapScratch {
  PixelRegion region;
  CircleScratch circle;
  LengthScratch length;
  std::vector<glm::ivec2> corners;
  std::vector<glm::dvec2> border;
};

// A speck has an area only.
struct MeasuredGap {
  bool is_speck = true;
  Gap gap;
};

// What gaps are measured in.
struct SeenGaps {
  const visibility::VisibilityBuffer* buffer;  // null: nobody stands anywhere
  const scene::PanelGrid& panels;
  const BoardMapping& mapping;
  GapMeasures measures;
};

MeasuredGap measuredGap(std::span<const Run> runs, const SeenGaps& seen, GapScratch& scratch);

}  // namespace petalproof::gaps
