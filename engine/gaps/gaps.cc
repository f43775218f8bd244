#include "engine/gaps/gaps.h"

#include "engine/base/threads.h"
#include "engine/camera/projection.h"
#include "engine/gaps/internal/bare_runs.h"
#include "engine/gaps/internal/flat_components.h"
#include "engine/gaps/internal/holes.h"
#include "engine/gaps/internal/measured_gap.h"

#include <tbb/enumerable_thread_specific.h>

#include <algorithm>
#include <utility>

namespace petalproof::gaps {
namespace {

std::vector<MeasuredGap> measureAll(const FlatComponents& components, const SeenGaps& seen,
                                    const std::function<void()>& now_and_then) {
  std::vector<MeasuredGap> measured(components.count());
  tbb::enumerable_thread_specific<GapScratch> scratch;
  forEach(measured.size(), [&](std::size_t k) {
    if (now_and_then) now_and_then();
    measured[k] = measuredGap(components.runsOf(k), seen, scratch.local());
  });
  return measured;
}

GapsOfShot numbered(std::vector<MeasuredGap> measured) {
  GapsOfShot found;
  found.gaps.reserve(static_cast<std::size_t>(std::count_if(
      measured.begin(), measured.end(), [](const MeasuredGap& component) { return !component.is_speck; })));
  for (MeasuredGap& component : measured) {
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
    const std::vector<Run> runs = bareRuns(buffer, panels, camera);
    const SeenGaps seen{&buffer, panels, mapping, measures};
    found = numbered(measureAll(flatComponents(runs), seen, now_and_then));
    addHoles(runs, seen, found);
  });
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

bool isBare(visibility::PixelId id, const scene::PanelGrid& panels) {
  return id.sees() == visibility::Sees::seam ||
         (id.sees() == visibility::Sees::board && !panels.ground_covered);
}

}  // namespace petalproof::gaps
