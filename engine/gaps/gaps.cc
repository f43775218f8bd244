#include "engine/gaps/gaps.h"

#include "engine/base/stopping.h"
#include "engine/camera/projection.h"
#include "engine/gaps/internal/bare_runs.h"
#include "engine/gaps/internal/flat_components.h"
#include "engine/gaps/internal/holes.h"
#include "engine/gaps/internal/measured_gap.h"

#include <algorithm>
#include <utility>

namespace petalproof::gaps {
namespace {

std::vector<MeasuredGap> measureAll(const FlatComponents& components, const SeenGaps& seen, const Pool& pool,
                                    const std::stop_token& stop) {
  std::vector<MeasuredGap> measured(components.count());
  PerThread<GapScratch> scratch(pool);
  pool.forEach(measured.size(), [&](std::size_t k) {
    throwIfStopAsked(stop);
    measured[k] = measuredGap(components.runsOf(k), seen, scratch.mine());
  });
  return measured;
}

GapsOfShot numbered(std::vector<MeasuredGap> measured) {
  GapsOfShot found;
  found.gaps.reserve(static_cast<std::size_t>(
      std::count_if(measured.begin(), measured.end(), [](const MeasuredGap& one) { return !one.is_speck; })));
  for (MeasuredGap& one : measured) {
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
  const std::vector<Run> runs = bareRuns(buffer, panels, camera, pool);
  const SeenGaps seen{&buffer, panels, mapping, measures};
  GapsOfShot found = numbered(measureAll(flatComponents(runs), seen, pool, stop));
  addHoles(runs, seen, found);
  return found;
}

GapsOfShot findGaps(const visibility::PixelMask& bare, const scene::PanelGrid& panels,
                    const camera::Camera& camera, GapMeasures measures) {
  const BoardMapping mapping(camera::boardFromPixel(camera));
  const std::vector<Run> runs = bareRuns(bare, panels, camera);
  const FlatComponents components = flatComponents(runs);
  const SeenGaps seen{nullptr, panels, mapping, measures};
  std::vector<MeasuredGap> measured(components.count());
  GapScratch scratch;
  for (std::size_t k = 0; k < measured.size(); ++k)
    measured[k] = measuredGap(components.runsOf(k), seen, scratch);
  GapsOfShot found = numbered(std::move(measured));
  addHoles(runs, seen, found);
  return found;
}

}  // namespace petalproof::gaps
