#include "engine/gaps/gaps.h"

#include "engine/base/threads.h"
#include "engine/camera/projection.h"
#include "engine/gaps/internal/bare_runs.h"
#include "engine/gaps/internal/flat_components.h"
#include "engine/gaps/internal/inscribed_circle.h"
#include "engine/gaps/internal/length.h"
#include "engine/gaps/internal/outline.h"
#include "engine/gaps/internal/owner_zone.h"

#include <tbb/enumerable_thread_specific.h>

#include <algorithm>
#include <utility>

namespace petalproof::gaps {
namespace {

// Smaller components are specks: measures of three pixels and less would be chance, and nobody sees less than
// 1 mm.
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

// A measured component; a speck has only an area.
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
  const visibility::VisibilityBuffer* buffer;  // null: a picture without people
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

std::vector<Measured> measureAll(const FlatComponents& components, const Seen& seen,
                                 const std::function<void()>& now_and_then) {
  std::vector<Measured> measured(components.count());
  tbb::enumerable_thread_specific<Scratch> scratch;
  forEach(measured.size(), [&](std::size_t k) {
    if (now_and_then) now_and_then();
    measured[k] = measure(components.runsOf(k), seen, scratch.local());
  });
  return measured;
}

GapsOfShot numbered(std::vector<Measured> measured) {
  GapsOfShot found;
  found.gaps.reserve(static_cast<std::size_t>(std::count_if(
      measured.begin(), measured.end(), [](const Measured& component) { return !component.is_speck; })));
  for (Measured& component : measured) {
    if (component.is_speck) {
      ++found.specks.count;
      found.specks.area_mm2 += component.gap.area_mm2;
      continue;
    }
    component.gap.number = static_cast<int>(found.gaps.size()) + 1;
    found.gaps.push_back(std::move(component.gap));
  }
  return found;
}

}  // namespace

GapsOfShot findGaps(const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
                    const camera::Camera& camera, int threads, GapMeasures measures,
                    const std::function<void()>& now_and_then) {
  const BoardMapping mapping(camera::boardFromPixel(camera));
  Workers workers(threads);
  GapsOfShot found;
  workers.run([&] {
    const FlatComponents components = flatComponents(bareRuns(buffer, panels, camera));
    found = numbered(measureAll(components, {&buffer, panels, mapping, measures}, now_and_then));
  });
  return found;
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

bool isBare(visibility::PixelId id, const scene::PanelGrid& panels) {
  return id.sees() == visibility::Sees::seam ||
         (id.sees() == visibility::Sees::board && !panels.ground_covered);
}

}  // namespace petalproof::gaps
