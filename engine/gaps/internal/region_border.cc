#include "engine/gaps/internal/region_border.h"

#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <limits>

namespace petalproof::gaps {
namespace {

// Pixels of a square tile of the picture with this side are a group: about as many groups as pixels in each
// on the borders of gaps that are a few hundred pixels wide.
constexpr int tile_px = 16;

double squaredLength(glm::dvec2 v) { return v.x * v.x + v.y * v.y; }

// Whether neither the pixel nor its two neighbours in the row belong to the region.
bool isAlone(const std::uint8_t* pixel) { return (pixel[-1] | pixel[0] | pixel[1]) == 0; }

}  // namespace

// The least distance from a place to the ellipses that are offered.
class RegionBorder::Nearest {
 public:
  explicit Nearest(glm::dvec2 place) : place_(place) {}
  double mm() const { return mm_; }
  // Whether the ellipse is nearer than those before.
  bool offer(const Footprint& pixel) {
    if (pixel.leastDistance(pixel.centre_mm - place_) >= mm_) return false;
    const double distance = pixel.distanceTo(place_);
    if (distance >= mm_) return false;
    mm_ = distance;
    return true;
  }
  bool mayHoldNearer(const Group& group) const {
    const double beyond = mm_ + group.radius_mm;
    return squaredLength(group.middle_mm - place_) < beyond * beyond;
  }

 private:
  glm::dvec2 place_;
  double mm_ = std::numeric_limits<double>::infinity();
};

// At the ends of the region's runs, and above and below where they aren't beside an end.
void RegionBorder::collectPixels(const PixelRegion& region) {
  pixels_.clear();
  const auto add = [&](int x, int y) {
    const auto column = static_cast<std::uint64_t>((x - region.left() + 1) / tile_px);
    const auto row = static_cast<std::uint64_t>((y - region.top() + 1) / tile_px);
    pixels_.push_back({(row << 32U) | column, x, y});
  };
  for (const Run& run : region.runs()) {
    add(run.begin - 1, run.row);
    add(run.end, run.row);
    const std::uint8_t* above = region.row(run.row - 1);
    const std::uint8_t* below = region.row(run.row + 1);
    for (int x = run.begin - region.left(); x < run.end - region.left(); ++x) {
      if (isAlone(above + x)) add(x + region.left(), run.row - 1);
      if (isAlone(below + x)) add(x + region.left(), run.row + 1);
    }
  }
}

void RegionBorder::addGroup(std::size_t begin, std::size_t end) {
  Group group{begin, end, footprints_[begin].centre_mm, 0};
  glm::dvec2 low = group.middle_mm;
  glm::dvec2 high = group.middle_mm;
  for (std::size_t k = begin; k < end; ++k) {
    low = glm::min(low, footprints_[k].centre_mm);
    high = glm::max(high, footprints_[k].centre_mm);
  }
  group.middle_mm = 0.5 * (low + high);
  for (std::size_t k = begin; k < end; ++k)
    group.radius_mm = std::max(group.radius_mm, glm::distance(group.middle_mm, footprints_[k].centre_mm) +
                                                    footprints_[k].largestRadius());
  groups_.push_back(group);
}

void RegionBorder::assign(const PixelRegion& region, const BoardMapping& mapping) {
  collectPixels(region);
  if (std::max(region.width(), region.height()) > tile_px)
    std::sort(pixels_.begin(), pixels_.end(), [](const Pixel& a, const Pixel& b) {
      if (a.tile != b.tile) return a.tile < b.tile;
      return a.y != b.y ? a.y < b.y : a.x < b.x;
    });
  footprints_.clear();
  for (const Pixel& pixel : pixels_)
    footprints_.push_back(mapping.footprintAt({pixel.x + 0.5, pixel.y + 0.5}));
  groups_.clear();
  for (std::size_t begin = 0; begin < pixels_.size();) {
    std::size_t end = begin + 1;
    while (end < pixels_.size() && pixels_[end].tile == pixels_[begin].tile) ++end;
    addGroup(begin, end);
    begin = end;
  }
  in_the_way_.fill(0);
}

double RegionBorder::roomAt(glm::dvec2 place, double needed) {
  Nearest nearest(place);
  for (const std::size_t k : in_the_way_)
    if (nearest.offer(footprints_[k]) && nearest.mm() <= needed) return nearest.mm();
  for (const Group& group : groups_) {
    if (!nearest.mayHoldNearer(group)) continue;
    for (std::size_t k = group.begin; k < group.end; ++k) {
      if (!nearest.offer(footprints_[k]) || nearest.mm() > needed) continue;
      in_the_way_[oldest_in_the_way_] = k;
      oldest_in_the_way_ = (oldest_in_the_way_ + 1) % kept;
      return nearest.mm();
    }
  }
  return nearest.mm();
}

}  // namespace petalproof::gaps
