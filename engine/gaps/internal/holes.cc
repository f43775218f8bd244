#include "engine/gaps/internal/holes.h"

#include "engine/gaps/internal/flat_components.h"

#include <algorithm>

namespace petalproof::gaps {
namespace {

// Whoever owns them, neighbours in a row joined.
std::vector<Run> ownerless(const std::vector<Run>& bare) {
  std::vector<Run> joined;
  joined.reserve(bare.size());
  for (const Run& run : bare) {
    if (!joined.empty() && joined.back().row == run.row && joined.back().end == run.begin)
      joined.back().end = run.end;
    else
      joined.push_back({run.row, run.begin, run.end, 1});
  }
  return joined;
}

bool before(const Run& a, const Run& b) { return a.row != b.row ? a.row < b.row : a.begin < b.begin; }

// Finds the component that a run of an owner is in.
class HoleOfRun {
 public:
  explicit HoleOfRun(const FlatComponents& components) {
    for (std::size_t k = 0; k < components.count(); ++k)
      for (const Run& run : components.runsOf(k)) runs_.push_back({run, k});
    std::sort(runs_.begin(), runs_.end(),
              [](const Owned& a, const Owned& b) { return before(a.run, b.run); });
  }
  std::size_t of(const Run& run) const {
    const auto next = std::upper_bound(runs_.begin(), runs_.end(), run,
                                       [](const Run& a, const Owned& b) { return before(a, b.run); });
    return (next - 1)->component;
  }

 private:
  struct Owned {
    Run run;
    std::size_t component;
  };
  std::vector<Owned> runs_;
};

double widthInPixels(std::span<const Run> runs, GapScratch& scratch) {
  const BoardMapping pixels(glm::dmat3(1));
  scratch.region.assign(runs);
  return widthOf(scratch.region, pixels, footprintSizesOf(scratch.region, pixels), scratch.circle);
}

const Gap& largestOf(const std::vector<std::size_t>& numbers, const std::vector<Gap>& gaps) {
  return gaps[*std::max_element(numbers.begin(), numbers.end(), [&](std::size_t a, std::size_t b) {
    return gaps[a].area_mm2 < gaps[b].area_mm2;
  })];
}

// `hole` knows its gaps.
void measure(std::span<const Run> runs, const SeenGaps& seen, const std::vector<Gap>& gaps,
             GapScratch& scratch, Hole& hole) {
  const Gap& largest = largestOf(hole.gaps, gaps);
  const bool alone = largest.pixels == pixelsOf(runs);
  hole.whole = alone ? largest : measuredGap(runs, seen, scratch).gap;
  hole.whole.owner = largest.owner;
  hole.whole.centre_mm = largest.centre_mm;
  if (seen.measures == GapMeasures::all) hole.width_px = widthInPixels(runs, scratch);
}

}  // namespace

void addHoles(const std::vector<Run>& bare, const SeenGaps& seen, GapsOfShot& found) {
  const FlatComponents components = flatComponents(ownerless(bare));
  const HoleOfRun hole_of(components);
  std::vector<std::vector<std::size_t>> gaps(components.count());
  for (std::size_t gap = 0; gap < found.gaps.size(); ++gap)
    gaps[hole_of.of(found.gaps[gap].runs.front())].push_back(gap);
  GapScratch scratch;
  for (std::size_t k = 0; k < components.count(); ++k) {
    if (gaps[k].empty()) continue;
    Hole& hole = found.holes.emplace_back();
    hole.gaps = std::move(gaps[k]);
    measure(components.runsOf(k), seen, found.gaps, scratch, hole);
    const auto number = static_cast<int>(found.holes.size());
    hole.whole.number = hole.whole.hole = number;
    for (const std::size_t gap : hole.gaps) found.gaps[gap].hole = number;
  }
}

}  // namespace petalproof::gaps
