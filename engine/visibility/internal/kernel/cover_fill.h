#pragma once
// Fills triangles into a mask, several rows at a time; pixels are decided exactly as in kernel/spans.h.

#include "engine/visibility/internal/clip.h"
#include "engine/visibility/internal/cover_kernels.h"
#include "engine/visibility/internal/kernel/lanes.h"
#include "engine/visibility/internal/screen_triangle.h"
#include "engine/visibility/internal/setup.h"

#if PETALPROOF_LANES == 8
#include <immintrin.h>
#endif

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <span>

namespace petalproof::visibility::PETALPROOF_KERNEL {

typedef std::int64_t Longs __attribute__((vector_size(sizeof(Doubles))));
typedef std::uint64_t ULongs __attribute__((vector_size(sizeof(Doubles))));

// A triangle's corners from the top down, and the pixels of the picture whose centres lie in its bounding
// box.
struct CoverTriangle {
  std::array<std::int32_t, 3> x;
  std::array<std::int32_t, 3> y;
  int left_px;  // sides of its box, not cut to the picture
  int right_px;
  PixelBox box;

  CoverTriangle(CornerKey p, CornerKey q, CornerKey r, int width_px, int height_px) {
    const std::array<CornerKey, 3> sorted = sortedDownwards(p, q, r);
    for (std::size_t k = 0; k < 3; ++k) {
      x[k] = xOf(sorted[k]);
      y[k] = yOf(sorted[k]);
    }
    left_px = firstCentreFrom(std::min(std::min(x[0], x[1]), x[2]));
    right_px = firstCentreFrom(std::max(std::max(x[0], x[1]), x[2]));
    box = {std::max(left_px, 0), std::max(firstCentreFrom(y[0]), 0), std::min(right_px, width_px),
           std::min(firstCentreFrom(y[2]), height_px)};
  }
  // Whether its edges are too long for coverEdge().
  bool isLong() const { return right_px - left_px > longest_px || y[2] - y[0] > longest_px * subpixels; }
  static constexpr int longest_px = (1 << 11) - 2;  // a little under CoverEdge's 2,048 px
};

// Where an edge crosses rows: in row r, counted from the triangle's first in the picture, the first pixel at
// or right of it is floor(at + r * per_row) + 1.
//
// That is ceil(n / d) with integers n, d = 1024 dy. What is rounded down is (n - 1/2) / d, never nearer to an
// integer than 1 / (2 d): 2^-32 for edges no higher than 2^21, which is 2,048 px. Rounding is off by less
// than 2^-36.
struct CoverEdge {
  double at;
  double per_row;
};

inline CoverEdge coverEdge(const CoverTriangle& t, std::size_t upper, std::size_t lower) {
  const double dx = t.x[lower] - t.x[upper];
  const double dy = t.y[lower] - t.y[upper];
  const double down = t.box.y0 * subpixels + subpixels / 2 - t.y[upper];
  const double n = (t.x[upper] - subpixels / 2) * dy + down * dx;
  const double one_over_dy = 1.0 / dy;
  return {(n - 0.5) * one_over_dy * (1.0 / subpixels), dx * one_over_dy};
}

// The bits from k on, for each k from 0 to 64; none where k is 64.
inline ULongs bitsFrom(Longs k) {
#if PETALPROOF_LANES == 8
  return reinterpret_cast<ULongs>(_mm256_sllv_epi64(_mm256_set1_epi64x(-1), reinterpret_cast<__m256i>(k)));
#else
  ULongs bits;
  for (int lane = 0; lane < half_count; ++lane)
    bits[lane] = k[lane] < 64 ? ~std::uint64_t{0} << k[lane] : std::uint64_t{0};
  return bits;
#endif
}

inline Doubles held(Doubles value, double least, double most) {
#if PETALPROOF_LANES == 8
  return _mm256_min_pd(_mm256_max_pd(value, _mm256_set1_pd(least)), _mm256_set1_pd(most));
#else
  const Doubles low = Doubles{} + least;
  const Doubles high = Doubles{} + most;
  value = value < low ? low : value;
  return value > high ? high : value;
#endif
}

// floor(place) + 1 of `place` + 1/2: by rounding to nearest, which no place of an edge can tie. Modulo 128.
inline Longs pixelFrom(Doubles place_and_half) {
  constexpr double to_integer = 0x1.8p52;
  return reinterpret_cast<Longs>(place_and_half + to_integer) & 127;
}

// Fills a triangle's rows in the strip that begins at pixel `left`; `beyond`: the triangle reaches beyond the
// strip. The pixels between two edges are those right of exactly one edge.
template <bool beyond>
[[gnu::always_inline]] inline void fillStrip(const CoverTriangle& t, const std::array<CoverEdge, 3>& edges,
                                             int left, std::uint64_t* rows) {
  const int count = t.box.y1 - t.box.y0;
  const Doubles turn = Doubles{} + static_cast<double>(firstCentreFrom(t.y[1]) - t.box.y0);
  const Doubles last = Doubles{} + static_cast<double>(count);
  const double to_strip = 0.5 - left;
  const Doubles through = Doubles{} + (edges[0].at + to_strip);
  const Doubles above = Doubles{} + (edges[1].at + to_strip);
  const Doubles below = Doubles{} + (edges[2].at + to_strip);
  Doubles row = halfNumbers();
  for (int r = 0; r < count; r += half_count, row += half_count) {
    Doubles a = through + row * edges[0].per_row;
    Doubles b = row < turn ? above + row * edges[1].per_row : below + row * edges[2].per_row;
    if (beyond) {
      a = held(a, 0, 64);
      b = held(b, 0, 64);
    }
    const ULongs between = bitsFrom(pixelFrom(a)) ^ bitsFrom(pixelFrom(b));
    ULongs bits;
    std::memcpy(&bits, rows + r, sizeof(bits));
    bits |= between & reinterpret_cast<ULongs>(row < last);
    store(bits, rows + r);
  }
}

// The same for triangles with edges too long for CoverEdge, in integers, row by row.
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
[[gnu::always_inline]] inline bool isCovered(const std::uint64_t* rows, int count, std::uint64_t bits) {
  int y = 0;
  for (; y + 4 <= count; y += 4)
    if ((bits & ~(rows[y] & rows[y + 1] & rows[y + 2] & rows[y + 3])) != 0) return false;
  for (; y < count; ++y)
    if ((bits & ~rows[y]) != 0) return false;
  return true;
}

[[gnu::always_inline]] inline void coverTriangle(const CoverTriangle& t, StripMask& mask) {
  constexpr int strip_px = StripMask::strip_px;
  std::array<CoverEdge, 3> edges;
  bool has_edges = false;
  for (int left = t.box.x0 / strip_px * strip_px; left < t.box.x1; left += strip_px) {
    const int from = std::max(t.box.x0 - left, 0);
    const int to = std::min(t.box.x1 - left, strip_px);
    std::uint64_t* const rows = mask.rows(left / strip_px, t.box.y0);
    if (isCovered(rows, t.box.y1 - t.box.y0, (~std::uint64_t{0} << from) & (~std::uint64_t{0} >> (64 - to))))
      continue;
    if (t.isLong()) {
      fillStripExactly(t, left, rows);
      continue;
    }
    if (!has_edges) edges = {coverEdge(t, 0, 2), coverEdge(t, 0, 1), coverEdge(t, 1, 2)};
    has_edges = true;
    if (t.left_px >= left && t.right_px <= left + strip_px)
      fillStrip<false>(t, edges, left, rows);
    else
      fillStrip<true>(t, edges, left, rows);
  }
}

inline void cover(const CornerKey* corners, std::span<const std::array<std::uint32_t, 3>> triangles,
                  StripMask& mask) {
  const int width_px = mask.widthPx();
  const int height_px = mask.heightPx();
  for (const auto& [a, b, c] : triangles) {
    const CoverTriangle triangle(corners[a], corners[b], corners[c], width_px, height_px);
    if (!triangle.box.empty()) coverTriangle(triangle, mask);
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
    // As numbers: without a branch, and clang warns of & between truth values.
    const int in_front = -z >= near_mm ? 1 : 0;
    const int in_width = std::abs(x * focal - z * off.x) <= reach ? 1 : 0;
    const int in_height = std::abs(y * focal + z * off.y) <= reach ? 1 : 0;
    const bool inside = (in_front & in_width & in_height) != 0;
    outside |= inside ? 0 : 1;
    const double inverse_depth = 1.0 / -z;
    const double u = right + focal * x * inverse_depth;
    const double v = down - focal * y * inverse_depth;
    corners[k] = cornerKey(snapped(inside ? u : 0), snapped(inside ? v : 0));
  }
  return outside == 0;
}

}  // namespace petalproof::visibility::PETALPROOF_KERNEL
