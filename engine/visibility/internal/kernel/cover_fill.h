#pragma once
// Triangles into a mask: several rows at once, decided exactly as kernel/spans.h says.

#include "engine/visibility/internal/clip.h"
#include "engine/visibility/internal/cover_kernels.h"
#include "engine/visibility/internal/kernel/lanes.h"
#include "engine/visibility/internal/screen_triangle.h"
#include "engine/visibility/internal/setup.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <span>

namespace petalproof::visibility::PETALPROOF_KERNEL {

typedef std::int64_t Longs __attribute__((vector_size(sizeof(Doubles))));
typedef std::uint64_t ULongs __attribute__((vector_size(sizeof(Doubles))));

// The pixels of a picture whose centres lie in a triangle's bounding box, and its corners from the top down.
struct CoverTriangle {
  std::array<std::int32_t, 3> x;
  std::array<std::int32_t, 3> y;
  PixelBox box;

  CoverTriangle(CornerKey p, CornerKey q, CornerKey r, int width_px, int height_px) {
    const std::array<CornerKey, 3> sorted = sortedDownwards(p, q, r);
    for (std::size_t k = 0; k < 3; ++k) {
      x[k] = xOf(sorted[k]);
      y[k] = yOf(sorted[k]);
    }
    box = {std::max(firstCentreFrom(std::min(std::min(x[0], x[1]), x[2])), 0),
           std::max(firstCentreFrom(y[0]), 0),
           std::min(firstCentreFrom(std::max(std::max(x[0], x[1]), x[2])), width_px),
           std::min(firstCentreFrom(y[2]), height_px)};
  }
};

// Where an edge crosses rows: in row r, counted from the triangle's first in the picture, the first pixel at
// or right of it is floor(at + r * per_row) + 1.
//
// That is ceil(n / d) with integers n, d = 1024 dy. What is rounded down is (n - 1/2) / d, never nearer to an
// integer than 1 / (2 d): 2^-32 for edges that are no higher than 2^21. Rounding is off by less than 2^-36.
struct CoverEdge {
  double at;
  double per_row;
};
constexpr std::int32_t longest_edge = 1 << 21;

inline CoverEdge coverEdge(const CoverTriangle& t, std::size_t upper, std::size_t lower) {
  const double dx = t.x[lower] - t.x[upper];
  const double dy = t.y[lower] - t.y[upper];
  const double down = t.box.y0 * subpixels + subpixels / 2 - t.y[upper];
  const double n = (t.x[upper] - subpixels / 2) * dy + down * dx;
  const double one_over_dy = 1.0 / dy;
  return {(n - 0.5) * one_over_dy * (1.0 / subpixels), dx * one_over_dy};
}

// Of all pixels [from, to) of a strip one bit; `from`, `to` 0 to 64.
inline ULongs bitsBetween(Longs from, Longs to, Longs in_triangle) {
  const ULongs ones = ~ULongs{};
  const ULongs after = ones << reinterpret_cast<ULongs>(from & 63);
  const ULongs before = ones >> reinterpret_cast<ULongs>((64 - to) & 63);
  return after & before & reinterpret_cast<ULongs>((from < to) & in_triangle);
}

// floor(place) + 1, held between 0 and 64: by rounding to nearest, which no place of an edge can tie.
inline Longs heldPixel(Doubles place) {
  constexpr double to_integer = 0x1.8p52;
  const Doubles low = Doubles{} - 0.5;
  const Doubles high = Doubles{} + 63.5;
  place = place < low ? low : place;
  place = place > high ? high : place;
  return reinterpret_cast<Longs>(place + 0.5 + to_integer) & 127;
}

// A triangle's edges in a strip that begins at `left` pixels.
inline void fillStrip(const CoverTriangle& t, const std::array<CoverEdge, 3>& edges, int left,
                      std::uint64_t* rows) {
  const int count = t.box.y1 - t.box.y0;
  const double turn = firstCentreFrom(t.y[1]) - t.box.y0;
  const auto alongFrom = [left](const CoverEdge& edge) { return edge.at - left; };
  const double through = alongFrom(edges[0]);
  const double above = alongFrom(edges[1]);
  const double below = alongFrom(edges[2]);
  for (int r = 0; r < count; r += half_count) {
    const Doubles row = halfNumbers() + r;
    const Doubles a = through + row * edges[0].per_row;
    const Doubles b = row < turn ? above + row * edges[1].per_row : below + row * edges[2].per_row;
    const Longs p = heldPixel(a);
    const Longs q = heldPixel(b);
    const Longs in_triangle = row < static_cast<double>(count);
    ULongs bits;
    std::memcpy(&bits, rows + r, sizeof(bits));
    bits |= bitsBetween(p < q ? p : q, p < q ? q : p, in_triangle);
    store(bits, rows + r);
  }
}

// The same for triangles with longer edges, in integers, row by row.
inline void fillStripExactly(const CoverTriangle& t, int left, std::uint64_t* rows) {
  const auto pixelAt = [&](std::size_t upper, std::size_t lower, int y) {
    const std::int64_t dx = std::int64_t{t.x[lower]} - t.x[upper];
    const std::int64_t dy = std::int64_t{t.y[lower]} - t.y[upper];
    const std::int64_t down = std::int64_t{y} * subpixels + subpixels / 2 - t.y[upper];
    const std::int64_t n = (std::int64_t{t.x[upper]} - subpixels / 2) * dy + down * dx - 1;
    const std::int64_t d = dy * subpixels;
    const std::int64_t quotient = n / d - (n % d < 0 ? 1 : 0);
    return static_cast<int>(std::clamp<std::int64_t>(quotient + 1 - left, 0, 64));
  };
  const int turn = firstCentreFrom(t.y[1]);
  for (int y = t.box.y0; y < t.box.y1; ++y) {
    const int a = pixelAt(0, 2, y);
    const int b = y < turn ? pixelAt(0, 1, y) : pixelAt(1, 2, y);
    const int from = std::min(a, b);
    const int to = std::max(a, b);
    if (from < to) rows[y - t.box.y0] |= (~std::uint64_t{0} << from) & (~std::uint64_t{0} >> (64 - to));
  }
}

// Whether all these bits are set in all rows already.
inline bool isCovered(const std::uint64_t* rows, int count, std::uint64_t bits) {
  for (int y = 0; y < count; ++y)
    if ((bits & ~rows[y]) != 0) return false;
  return true;
}

inline void coverOne(const CoverTriangle& t, StripMask& mask) {
  constexpr int strip_px = StripMask::strip_px;
  const bool is_long =
      t.y[2] - t.y[0] > longest_edge ||
      std::max(std::max(t.x[0], t.x[1]), t.x[2]) - std::min(std::min(t.x[0], t.x[1]), t.x[2]) > longest_edge;
  std::array<CoverEdge, 3> edges;
  bool has_edges = false;
  for (int strip = t.box.x0 / strip_px; strip * strip_px < t.box.x1; ++strip) {
    const int left = strip * strip_px;
    const int from = std::max(t.box.x0 - left, 0);
    const int to = std::min(t.box.x1 - left, strip_px);
    std::uint64_t* const rows = mask.rows(strip, t.box.y0);
    if (isCovered(rows, t.box.y1 - t.box.y0, (~std::uint64_t{0} << from) & (~std::uint64_t{0} >> (64 - to))))
      continue;
    if (is_long) {
      fillStripExactly(t, left, rows);
      continue;
    }
    if (!has_edges) edges = {coverEdge(t, 0, 2), coverEdge(t, 0, 1), coverEdge(t, 1, 2)};
    has_edges = true;
    fillStrip(t, edges, left, rows);
  }
}

inline void cover(const CornerKey* corners, std::span<const std::array<std::uint32_t, 3>> triangles,
                  StripMask& mask) {
  const int width_px = mask.widthPx();
  const int height_px = mask.heightPx();
  for (const auto& [a, b, c] : triangles) {
    const CoverTriangle triangle(corners[a], corners[b], corners[c], width_px, height_px);
    if (!triangle.box.empty()) coverOne(triangle, mask);
  }
}

inline bool project(std::span<const glm::vec3> vertices, const glm::dmat4x3& m, const RasterView& view,
                    CornerKey* corners) {
  const glm::dvec2 off = fromMiddle(view);
  const double focal = view.focal_px;
  const double right = view.principal_px.x;
  const double down = view.principal_px.y;
  int outside = 0;
  for (std::size_t k = 0; k < vertices.size(); ++k) {
    const double vx = double{vertices[k].x};
    const double vy = double{vertices[k].y};
    const double vz = double{vertices[k].z};
    const double x = m[0].x * vx + m[1].x * vy + m[2].x * vz + m[3].x;
    const double y = m[0].y * vx + m[1].y * vy + m[2].y * vz + m[3].y;
    const double z = m[0].z * vx + m[1].z * vy + m[2].z * vz + m[3].z;
    const double reach = -z * guard_px;
    const bool inside = (-z >= near_mm) & (std::abs(x * focal - z * off.x) <= reach) &
                        (std::abs(y * focal + z * off.y) <= reach);
    outside |= inside ? 0 : 1;
    const double inverse_depth = 1.0 / -z;
    const double u = right + focal * x * inverse_depth;
    const double v = down - focal * y * inverse_depth;
    corners[k] = cornerKey(snapped(inside ? u : 0), snapped(inside ? v : 0));
  }
  return outside == 0;
}

}  // namespace petalproof::visibility::PETALPROOF_KERNEL
