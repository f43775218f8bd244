#include "engine/gaps/internal/bare_runs.h"

#include "engine/camera/projection.h"
#include "engine/gaps/internal/owner_zone.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>

namespace petalproof::gaps {
namespace {

constexpr int rows_a_block = 16;
constexpr int wide_look = 64;  // pixels tested at once where few are bare
constexpr int short_look = 8;  // likewise, near the first bare pixel

// Tells whether a pixel is bare, in a form that compiles well in loops: the three highest bits say what the
// pixel sees, and board and seam have the upper two in common.
class BareTest {
 public:
  explicit BareTest(bool covered)
      : mask_(covered ? 0b111U << 29 : 0b110U << 29),
        wanted_(std::bit_cast<std::uint32_t>(visibility::PixelId(visibility::Sees::seam, 0)) & mask_) {
    static_assert(static_cast<std::uint32_t>(visibility::Sees::board) == 0b010 &&
                  static_cast<std::uint32_t>(visibility::Sees::seam) == 0b011);
  }
  bool operator()(visibility::PixelId id) const { return (*this)(std::bit_cast<std::uint32_t>(id)); }
  bool operator()(std::uint32_t bits) const { return (bits & mask_) == wanted_; }

 private:
  std::uint32_t mask_;
  std::uint32_t wanted_;
};

template <int pixels>
bool anyBare(const visibility::PixelId* ids, BareTest is_bare) {
  std::array<std::uint32_t, pixels> bits;
  std::memcpy(bits.data(), ids, sizeof(bits));
  std::uint32_t any = 0;
  for (const std::uint32_t one : bits) any |= is_bare(one) ? 1U : 0U;
  return any != 0;
}

// The first pixel from `x` on that is bare, or `width`.
int nextBare(const visibility::PixelId* row, int x, int width, BareTest is_bare) {
  while (x + wide_look <= width && !anyBare<wide_look>(row + x, is_bare)) x += wide_look;
  while (x + short_look <= width && !anyBare<short_look>(row + x, is_bare)) x += short_look;
  while (x < width && !is_bare(row[x])) ++x;
  return x;
}

int endOfBare(const visibility::PixelId* row, int x, int width, BareTest is_bare) {
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

// The end of the pixels of [x, end) that are in x's zone. The places of a row lie in order on a
// line, so those in a rectangle follow each other: doubling steps, then bisection.
int endOfZone(const RowPlaces& places, const BoardRect& zone, int x, int end) {
  if (contains(zone, places.at(end - 1))) return end;
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

// Splits the bare pixels [begin, end) of a row by owner. `zone`: the last zone found, which often is
// the next, too.
void appendOwned(std::vector<Run>& runs, const RowPlaces& places, const scene::PanelGrid& panels, int row,
                 int begin, int end, OwnerZone& zone) {
  for (int x = begin; x < end;) {
    if (!zone.everywhere_in || !contains(*zone.everywhere_in, places.at(x)))
      zone = ownerZoneAt(panels, places.at(x));
    const int next = zone.everywhere_in ? endOfZone(places, *zone.everywhere_in, x, end) : x + 1;
    append(runs, {row, x, next, labelOf(zone.owner, panels)});
    x = next;
  }
}

// The stretches of bare pixels in a row of ids.
class RowOfIds {
 public:
  RowOfIds(const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels, int row)
      : ids_(buffer.ids.data() + buffer.offset(0, row)),
        width_(buffer.width_px),
        is_bare_(panels.ground_covered) {}
  int next(int x) const { return nextBare(ids_, x, width_, is_bare_); }
  int end(int x) const { return endOfBare(ids_, x, width_, is_bare_); }

 private:
  const visibility::PixelId* ids_;
  int width_;
  BareTest is_bare_;
};

// The same in a row of a mask.
class RowOfBits {
 public:
  RowOfBits(const visibility::PixelMask& bare, int row) : words_(bare.row(row)), width_(bare.width_px) {}
  int next(int x) const { return firstFrom(x, 0); }
  int end(int x) const { return firstFrom(x, ~std::uint64_t{0}); }

 private:
  // The first pixel from `x` on that differs from a bit of `same`, or the picture's width.
  int firstFrom(int x, std::uint64_t same) const {
    if (x >= width_) return width_;
    const int words = (width_ + visibility::PixelMask::word_px - 1) / visibility::PixelMask::word_px;
    int word = x / visibility::PixelMask::word_px;
    std::uint64_t left = (words_[word] ^ same) & (~std::uint64_t{0} << (x % visibility::PixelMask::word_px));
    while (left == 0 && ++word < words) left = words_[word] ^ same;
    return left == 0 ? width_
                     : std::min(width_, word * visibility::PixelMask::word_px + std::countr_zero(left));
  }

  const std::uint64_t* words_;
  int width_;
};

template <class Row>
void appendRow(std::vector<Run>& runs, const Row& bare, int width, const scene::PanelGrid& panels,
               const glm::dmat3& boardFromPixel, int row) {
  const RowPlaces places(boardFromPixel, row);
  OwnerZone zone;
  for (int x = bare.next(0); x < width;) {
    const int end = bare.end(x);
    appendOwned(runs, places, panels, row, x, end, zone);
    x = bare.next(end);
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

bool isBare(visibility::PixelId id, const scene::PanelGrid& panels) {
  return BareTest(panels.ground_covered)(id);
}

std::vector<Run> bareRuns(const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
                          const camera::Camera& camera, const Pool& pool) {
  const glm::dmat3 board = boardFromPixel(camera);
  const int block_count = (buffer.height_px + rows_a_block - 1) / rows_a_block;
  std::vector<std::vector<Run>> blocks(static_cast<std::size_t>(block_count));
  pool.forEach(blocks.size(), [&](std::size_t block) {
    const int begin = static_cast<int>(block) * rows_a_block;
    const int end = std::min(buffer.height_px, begin + rows_a_block);
    for (int row = begin; row < end; ++row)
      appendRow(blocks[block], RowOfIds(buffer, panels, row), buffer.width_px, panels, board, row);
  });
  return joined(blocks);
}

std::vector<Run> bareRuns(const visibility::PixelMask& bare, const scene::PanelGrid& panels,
                          const camera::Camera& camera) {
  const glm::dmat3 board = boardFromPixel(camera);
  std::vector<Run> runs;
  for (int row = 0; row < bare.height_px; ++row)
    appendRow(runs, RowOfBits(bare, row), bare.width_px, panels, board, row);
  return runs;
}

}  // namespace petalproof::gaps
