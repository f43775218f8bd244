#include "engine/gaps/internal/bare_runs.h"

#include "engine/base/threads.h"
#include "engine/gaps/internal/owner_zone.h"

#include <algorithm>
#include <cstddef>

namespace petalproof {
namespace {

constexpr int rows_a_block = 16;
constexpr int pixels_a_look = 32;

// Which pixels are bare, in a form that a loop over many compiles well to.
struct BareTest {
  bool covered = false;
  bool operator()(PixelId id) const {
    const Sees sees = id.sees();
    return sees == Sees::seam || (!covered && sees == Sees::board);
  }
};

bool anyBare(const PixelId* ids, BareTest is_bare) {
  bool any = false;
  for (int k = 0; k < pixels_a_look; ++k) any |= is_bare(ids[k]);
  return any;
}

// The first pixel from `x` on that is bare, or `width`.
int nextBare(const PixelId* row, int x, int width, BareTest is_bare) {
  while (x + pixels_a_look <= width && !anyBare(row + x, is_bare)) x += pixels_a_look;
  while (x < width && !is_bare(row[x])) ++x;
  return x;
}

int endOfBare(const PixelId* row, int x, int width, BareTest is_bare) {
  while (x < width && is_bare(row[x])) ++x;
  return x;
}

// The places on the board plane of the pixels of one row.
class RowPlaces {
 public:
  RowPlaces(const glm::dmat3& boardFromPixel, int row)
      : at_zero_(boardFromPixel * glm::dvec3(0.5, row + 0.5, 1)), per_pixel_(boardFromPixel[0]) {}
  BoardPoint at(int x) const {
    const glm::dvec3 h = at_zero_ + per_pixel_ * static_cast<double>(x);
    return {glm::dvec2(h) / h.z};
  }

 private:
  glm::dvec3 at_zero_;
  glm::dvec3 per_pixel_;
};

bool contains(const BoardRect& rect, BoardPoint place) {
  const glm::dvec2 p = place.mm;
  return p.x >= rect.min_mm.x && p.x <= rect.max_mm.x && p.y >= rect.min_mm.y && p.y <= rect.max_mm.y;
}

// One past the last pixel of [x, end) in the zone that x is in. The places of a row lie in order on a
// line, so those in a rectangle follow each other: doubling steps, then bisection.
int endOfZone(const RowPlaces& places, const BoardRect& zone, int x, int end) {
  int in = x;
  int step = 1;
  while (in + step < end && contains(zone, places.at(in + step))) {
    in += step;
    step *= 2;
  }
  int out = std::min(in + step, end);
  while (out - in > 1) {
    const int middle = in + (out - in) / 2;
    (contains(zone, places.at(middle)) ? in : out) = middle;
  }
  return out;
}

void append(std::vector<Run>& runs, const Run& run) {
  if (!runs.empty() && runs.back().row == run.row && runs.back().end == run.begin &&
      runs.back().label == run.label)
    runs.back().end = run.end;
  else
    runs.push_back(run);
}

// Splits the bare pixels [begin, end) of a row by owner.
void appendOwned(std::vector<Run>& runs, const RowPlaces& places, const PanelGrid& panels, int row, int begin,
                 int end) {
  for (int x = begin; x < end;) {
    const OwnerZone zone = ownerZoneAt(panels, places.at(x));
    const int next = zone.everywhere_in ? endOfZone(places, *zone.everywhere_in, x, end) : x + 1;
    append(runs, {row, x, next, labelOf(zone.owner, panels)});
    x = next;
  }
}

void appendRow(std::vector<Run>& runs, const VisibilityBuffer& buffer, const PanelGrid& panels,
               const glm::dmat3& boardFromPixel, int row) {
  const BareTest is_bare{panels.ground_covered};
  const RowPlaces places(boardFromPixel, row);
  const PixelId* ids = buffer.ids.data() + buffer.offset(0, row);
  const int width = buffer.width_px;
  for (int x = nextBare(ids, 0, width, is_bare); x < width;) {
    const int end = endOfBare(ids, x, width, is_bare);
    appendOwned(runs, places, panels, row, x, end);
    x = nextBare(ids, end, width, is_bare);
  }
}

std::vector<Run> joined(const std::vector<std::vector<Run>>& blocks) {
  std::size_t count = 0;
  for (const auto& block : blocks) count += block.size();
  std::vector<Run> runs;
  runs.reserve(count);
  for (const auto& block : blocks) runs.insert(runs.end(), block.begin(), block.end());
  return runs;
}

}  // namespace

bool isBare(PixelId id, const PanelGrid& panels) { return BareTest{panels.ground_covered}(id); }

std::vector<Run> bareRuns(const VisibilityBuffer& buffer, const PanelGrid& panels, const Camera& camera) {
  const glm::dmat3 board = boardFromPixel(camera);
  const int block_count = (buffer.height_px + rows_a_block - 1) / rows_a_block;
  std::vector<std::vector<Run>> blocks(static_cast<std::size_t>(block_count));
  forEach(blocks.size(), [&](std::size_t block) {
    const int begin = static_cast<int>(block) * rows_a_block;
    const int end = std::min(buffer.height_px, begin + rows_a_block);
    for (int row = begin; row < end; ++row) appendRow(blocks[block], buffer, panels, board, row);
  });
  return joined(blocks);
}

}  // namespace petalproof
