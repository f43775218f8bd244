#include "engine/gaps/internal/measured_gap.h"

#include "engine/gaps/internal/flat_components.h"
#include "engine/gaps/internal/outline.h"
#include "engine/gaps/internal/owner_zone.h"

#include <algorithm>

namespace petalproof::gaps {
namespace {

constexpr std::int64_t least_pixels = 4;
constexpr double least_width_mm = 1.0;
// An outline follows its pixels to this or to one pixel's size, the larger; with some room for rounding.
constexpr double outline_tolerance_mm = 0.5;
constexpr double outline_margin = 0.98;

std::vector<glm::dvec2> outlineOf(const BoardMapping& mapping, double pixel_mm, GapScratch& scratch) {
  collectOuterBorder(scratch.region, scratch.corners);
  scratch.border.clear();
  for (const glm::ivec2& corner : scratch.corners) scratch.border.push_back(mapping.board(corner));
  const double tolerance = std::max(outline_tolerance_mm, pixel_mm);
  return simplifiedOutline(scratch.border, tolerance * outline_margin);
}

bool mostlyBehindPeople(std::span<const Run> runs, const visibility::VisibilityBuffer* buffer) {
  if (buffer == nullptr || buffer->people.empty()) return false;
  std::int64_t hidden = 0;
  for (const Run& run : runs)
    for (int x = run.begin; x < run.end; ++x) hidden += buffer->people[buffer->offset(x, run.row)];
  return 2 * hidden > pixelsOf(runs);
}

}  // namespace

MeasuredGap measuredGap(std::span<const Run> runs, const SeenGaps& seen, GapScratch& scratch) {
  const auto& [buffer, panels, mapping, measures] = seen;
  MeasuredGap measured;
  Gap& gap = measured.gap;
  const AreaAndCentre area = areaOf(runs, mapping);
  gap.area_mm2 = area.area_mm2;
  gap.pixels = pixelsOf(runs);
  if (gap.pixels < least_pixels) return measured;
  scratch.region.assign(runs);
  const FootprintSizes sizes = footprintSizesOf(scratch.region, mapping);
  gap.width_mm = widthOf(scratch.region, mapping, sizes, scratch.circle);
  if (gap.width_mm < least_width_mm) return measured;
  measured.is_speck = false;
  gap.owner = ownerFromLabel(runs.front().label, panels);
  gap.centre_mm = area.centre_mm;
  gap.behind_people = mostlyBehindPeople(runs, buffer);
  gap.runs.assign(runs.begin(), runs.end());
  if (measures == GapMeasures::widths) return measured;
  gap.length_mm = std::max(lengthOf(runs, mapping, scratch.length), gap.width_mm);
  gap.outline_mm = outlineOf(mapping, sizes.smallest_mm, scratch);
  return measured;
}

}  // namespace petalproof::gaps
