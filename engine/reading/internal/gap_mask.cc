#include "engine/reading/internal/gap_mask.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace petalproof::reading {
namespace {

// How much of each working pixel a stretch [from, to) of the shot covers, in working pixels.
struct Stretch {
  double from;
  double to;
  int first() const { return static_cast<int>(std::floor(from)); }
  int last() const { return std::max(first(), static_cast<int>(std::ceil(to)) - 1); }
  float share(int k) const {
    return static_cast<float>(std::max(0.0, std::min(to, k + 1.0) - std::max<double>(from, k)));
  }
};

struct Scale {
  double across;
  double down;
  Stretch columns(const gaps::Run& run) const { return {run.begin * across, run.end * across}; }
  Stretch rows(const gaps::Run& run) const { return {run.row * down, (run.row + 1) * down}; }
};

void placeWindow(const std::vector<gaps::Run>& runs, const Scale& scale, const camera::WorkingSize& size,
                 GapMask& mask) {
  int left = std::numeric_limits<int>::max();
  int right = 0;
  int top = left;
  int bottom = 0;
  for (const gaps::Run& run : runs) {
    left = std::min(left, scale.columns(run).first());
    right = std::max(right, scale.columns(run).last());
    top = std::min(top, scale.rows(run).first());
    bottom = std::max(bottom, scale.rows(run).last());
  }
  // Rounding may place the last pixel of a shot beyond the picture.
  mask.left = std::min(left, size.width_px - 1);
  mask.top = std::min(top, size.height_px - 1);
  mask.width = std::min(right, size.width_px - 1) - mask.left + 1;
  mask.height = std::min(bottom, size.height_px - 1) - mask.top + 1;
}

void addRun(const gaps::Run& run, const Scale& scale, GapMask& mask) {
  const Stretch columns = scale.columns(run);
  const Stretch rows = scale.rows(run);
  for (int y = rows.first(); y <= std::min(rows.last(), mask.top + mask.height - 1); ++y)
    for (int x = columns.first(); x <= std::min(columns.last(), mask.left + mask.width - 1); ++x)
      mask.share[mask.offset(x - mask.left, y - mask.top)] += rows.share(y) * columns.share(x);
}

void findSpans(GapMask& mask) {
  for (int y = 0; y < mask.height; ++y) {
    for (int x = 0; x < mask.width; ++x) {
      if (mask.share[mask.offset(x, y)] <= 0) continue;
      const int begin = x;
      while (x < mask.width && mask.share[mask.offset(x, y)] > 0) ++x;
      mask.spans.push_back({y, begin, x});
    }
  }
}

}  // namespace

GapMask maskOf(const std::vector<gaps::Run>& runs, int shot_width_px, int shot_height_px,
               const camera::WorkingSize& size) {
  const Scale scale{static_cast<double>(size.width_px) / shot_width_px,
                    static_cast<double>(size.height_px) / shot_height_px};
  GapMask mask;
  if (runs.empty()) return mask;
  placeWindow(runs, scale, size, mask);
  mask.share.assign(static_cast<std::size_t>(mask.width) * static_cast<std::size_t>(mask.height), 0);
  for (const gaps::Run& run : runs) addRun(run, scale, mask);
  findSpans(mask);
  return mask;
}

GrownMask grown(const GapMask& mask, double reach_px) {
  GrownMask large;
  large.margin = static_cast<int>(std::floor(reach_px));
  large.width = mask.width + 2 * large.margin;
  large.height = mask.height + 2 * large.margin;
  large.inside.assign(static_cast<std::size_t>(large.width) * static_cast<std::size_t>(large.height), 0);
  for (const MaskSpan& span : mask.spans) {
    for (int dy = -large.margin; dy <= large.margin; ++dy) {
      const int chord = static_cast<int>(std::floor(std::sqrt(reach_px * reach_px - dy * dy)));
      std::uint8_t* row =
          large.inside.data() + static_cast<std::ptrdiff_t>(span.row + dy + large.margin) * large.width;
      std::fill(row + large.margin + span.begin - chord, row + large.margin + span.end + chord,
                std::uint8_t{1});
    }
  }
  return large;
}

}  // namespace petalproof::reading
