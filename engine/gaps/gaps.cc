#include "engine/gaps/gaps.h"

#include "engine/base/stopping.h"
#include "engine/camera/projection.h"
#include "engine/gaps/internal/bare_runs.h"
#include "engine/gaps/internal/flat_components.h"
#include "engine/gaps/internal/inscribed_circle.h"
#include "engine/gaps/internal/length.h"
#include "engine/gaps/internal/outline.h"
#include "engine/gaps/internal/owner_zone.h"

#include <algorithm>
#include <utility>

namespace petalproof::gaps {
namespace {

// Smaller components are specks: their measures would be chance.
constexpr std::int64_t least_pixels = 4;
constexpr double least_width_mm = 1.0;
// How closely an outline follows its pixels: to this or to a pixel's size, whichever is larger, less a margin
// for rounding.
constexpr double outline_tolerance_mm = 0.5;
constexpr double outline_margin = 0.98;

struct Scratch {
  PixelRegion region;
  CircleScratch circle;
  LengthScratch length;
  std::vector<glm::ivec2> corners;
  std::vector<glm::dvec2> border;
};

// A component as measured; a speck has an area only.
struct Measured {
  bool is_speck = true;
  Gap gap;
};

std::vector<glm::dvec2> outlineOf(const BoardMapping& mapping, double pixel_mm, Scratch& scratch) {
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

// The picture in which gaps are measured.
struct Seen {
  const visibility::VisibilityBuffer* buffer;  // null: nobody stands anywhere
  const scene::PanelGrid& panels;
  const BoardMapping& mapping;
  GapMeasures measures;
};

Measured measure(std::span<const Run> runs, const Seen& seen, Scratch& scratch) {
  const auto& [buffer, panels, mapping, measures] = seen;
  Measured measured;
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

std::vector<Measured> measureAll(const FlatComponents& components, const Seen& seen, const Pool& pool,
                                 const std::stop_token& stop) {
  std::vector<Measured> measured(components.count());
  PerThread<Scratch> scratch(pool);
  pool.forEach(measured.size(), [&](std::size_t k) {
    throwIfStopAsked(stop);
    measured[k] = measure(components.runsOf(k), seen, scratch.mine());
  });
  return measured;
}

GapsOfShot numbered(std::vector<Measured> measured) {
  GapsOfShot found;
  found.gaps.reserve(static_cast<std::size_t>(
      std::count_if(measured.begin(), measured.end(), [](const Measured& one) { return !one.is_speck; })));
  for (Measured& one : measured) {
    if (one.is_speck) {
      ++found.specks.count;
      found.specks.area_mm2 += one.gap.area_mm2;
      continue;
    }
    one.gap.number = static_cast<int>(found.gaps.size()) + 1;
    found.gaps.push_back(std::move(one.gap));
  }
  return found;
}

}  // namespace

GapsOfShot findGaps(const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
                    const camera::Camera& camera, const Pool& pool, GapMeasures measures,
                    const std::stop_token& stop) {
  const BoardMapping mapping(camera::boardFromPixel(camera));
  const FlatComponents components = flatComponents(bareRuns(buffer, panels, camera, pool));
  return numbered(measureAll(components, {&buffer, panels, mapping, measures}, pool, stop));
}

GapsOfShot findGaps(const visibility::PixelMask& bare, const scene::PanelGrid& panels,
                    const camera::Camera& camera, GapMeasures measures) {
  const BoardMapping mapping(camera::boardFromPixel(camera));
  const FlatComponents components = flatComponents(bareRuns(bare, panels, camera));
  const Seen seen{nullptr, panels, mapping, measures};
  std::vector<Measured> measured(components.count());
  Scratch scratch;
  for (std::size_t k = 0; k < measured.size(); ++k)
    measured[k] = measure(components.runsOf(k), seen, scratch);
  return numbered(std::move(measured));
}

}  // namespace petalproof::gaps
