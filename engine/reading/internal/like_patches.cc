#include "engine/reading/internal/like_patches.h"

#include "engine/picture/disc.h"
#include "engine/picture/row_loops.h"

#include <algorithm>
#include <cmath>

namespace petalproof::reading {
namespace {

constexpr int colours = 3;

void clear(std::array<std::vector<float>, 3>& planes, int pixels, int side_by_side) {
  for (auto& plane : planes)
    plane.assign(static_cast<std::size_t>(pixels) * static_cast<std::size_t>(side_by_side), 0);
}

}  // namespace

std::vector<float> LikePatches::measures(const GapMask& mask, std::span<const glm::ivec2> places) {
  std::vector<Place> sorted;
  for (const glm::ivec2& at : places) sorted.push_back({at, discAt(mask, at)});
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Place& a, const Place& b) { return a.disc_px < b.disc_px; });
  list(mask);
  std::vector<float> found;
  for (std::size_t first = 0; first < sorted.size(); first += side_by_side) {
    const auto count = static_cast<int>(std::min<std::size_t>(side_by_side, sorted.size() - first));
    Group group;
    double disc_px = 0;
    for (int k = 0; k < side_by_side; ++k) {
      group[static_cast<std::size_t>(k)] = sorted[first + static_cast<std::size_t>(std::min(k, count - 1))];
      disc_px += group[static_cast<std::size_t>(k)].disc_px / side_by_side;
    }
    const GrownMask around = grown(mask, disc_px / 2);
    const int margin = std::max(picture::Disc(disc_px).reach(), around.margin);
    fillHoles(mask, group);
    change(mask, group);
    spread(mask, disc_px, margin);
    see(around, margin, mask.width + 2 * margin, mask.height + 2 * margin);
    compare(around, group, margin, mask.width + 2 * margin, count, found);
  }
  return found;
}

// Of the bloom in the middle of the window.
double LikePatches::discAt(const GapMask& mask, glm::ivec2 at) const {
  const MaskSpan& span = mask.spans[mask.spans.size() / 2];
  const std::size_t k = picture_.sharp.offset(at.x + (span.begin + span.end) / 2, at.y + span.row);
  return picture_.lens.diameter(picture_.sharp.front_inverse_mm[k]);
}

void LikePatches::list(const GapMask& mask) {
  inside_.clear();
  border_.clear();
  const auto share = [&](int x, int y) {
    return x >= 0 && y >= 0 && x < mask.width && y < mask.height ? mask.share[mask.offset(x, y)] : 0.0F;
  };
  for (int y = -1; y <= mask.height; ++y)
    for (int x = -1; x <= mask.width; ++x) {
      if (share(x, y) > 0) {
        inside_.push_back({x, y, share(x, y)});
        continue;
      }
      bool beside = false;
      for (int dy = -1; dy <= 1; ++dy)
        for (int dx = -1; dx <= 1; ++dx) beside = beside || share(x + dx, y + dy) > 0;
      if (beside) border_.push_back({x, y, 0});
    }
}

void LikePatches::gatherBorder(const MaskPixel& pixel, const Group& group) {
  const picture::WorkingPicture& sharp = picture_.sharp;
  const std::size_t to = window_.pixel(pixel.x + 1, pixel.y + 1);
  for (int k = 0; k < side_by_side; ++k) {
    const glm::ivec2 at = group[static_cast<std::size_t>(k)].at + glm::ivec2(pixel.x, pixel.y);
    if (at.x < 0 || at.y < 0 || at.x >= sharp.size.width_px || at.y >= sharp.size.height_px) continue;
    const std::size_t from = sharp.offset(at.x, at.y);
    if (sharp.bloom_share[from] < BloomOnly::least_share) continue;
    for (int c = 0; c < colours; ++c) {
      window_.lightOf(to)[c * side_by_side + k] = sharp.front[from][c];
      window_.knownOf(to)[c * side_by_side + k] = 1;
    }
  }
}

void LikePatches::fillHoles(const GapMask& mask, const Group& group) {
  window_.reset(mask.width + 2, mask.height + 2, colours * side_by_side);
  for (const MaskPixel& pixel : border_) gatherBorder(pixel, group);
  for (const MaskPixel& pixel : inside_) window_.wanted[window_.pixel(pixel.x + 1, pixel.y + 1)] = 1;
  fill_.fill(window_);
}

void LikePatches::change(const GapMask& mask, const Group& group) {
  const picture::WorkingPicture& sharp = picture_.sharp;
  std::array<float, side_by_side> borders{};
  for (const MaskPixel& pixel : border_)
    for (std::size_t k = 0; k < side_by_side; ++k)
      borders[k] += window_.knownOf(window_.pixel(pixel.x + 1, pixel.y + 1))[k];
  clear(sharp_, mask.width * mask.height, side_by_side);
  for (const MaskPixel& pixel : inside_) {
    const float* light = window_.lightOf(window_.pixel(pixel.x + 1, pixel.y + 1));
    const std::size_t to = mask.offset(pixel.x, pixel.y) * side_by_side;
    for (std::size_t k = 0; k < side_by_side; ++k) {
      if (borders[k] <= 0) continue;
      const glm::vec3 filled(light[k], light[side_by_side + k], light[2 * side_by_side + k]);
      const glm::vec3 own = sharp.front[sharp.offset(group[k].at.x + pixel.x, group[k].at.y + pixel.y)];
      const glm::vec3 added = opponentFromLinear(pixel.share * (filled - own));
      for (std::size_t p = 0; p < colours; ++p) sharp_[p][to + k] = added[static_cast<int>(p)];
    }
  }
}

void LikePatches::spread(const GapMask& mask, double disc_px, int margin) {
  const picture::Disc disc(disc_px);
  const int width = mask.width + 2 * margin;
  const std::ptrdiff_t row_numbers = static_cast<std::ptrdiff_t>(width) * side_by_side;
  clear(soft_, width * (mask.height + 2 * margin), side_by_side);
  const int pad = margin + 1;
  row_.assign(static_cast<std::size_t>(width + 2 * pad) * side_by_side, 0);
  sums_.resize(row_.size() + side_by_side);
  for (std::size_t p = 0; p < colours; ++p)
    for (int y = 0; y < mask.height; ++y) {
      std::copy_n(sharp_[p].data() + static_cast<std::ptrdiff_t>(mask.offset(0, y)) * side_by_side,
                  mask.width * side_by_side,
                  row_.data() + static_cast<std::ptrdiff_t>(margin + pad) * side_by_side);
      picture::runningSums(row_.data(), side_by_side, width + 2 * pad, sums_.data());
      for (int dy = -disc.reach(); dy <= disc.reach(); ++dy)
        picture::addChord(sums_.data(), side_by_side, disc.halfChord(dy), pad, 1 / disc.area(),
                          soft_[p].data() + (y + margin + dy) * row_numbers, width);
    }
}

void LikePatches::see(const GrownMask& around, int margin, int width, int height) {
  wanted_.assign(static_cast<std::size_t>(height), {});
  for (int y = 0; y < around.height; ++y) {
    int first = 0;
    int end = around.width;
    while (first < end && !around.has(first, y)) ++first;
    while (end > first && !around.has(end - 1, y)) --end;
    const int beside = margin - around.margin;
    wanted_[static_cast<std::size_t>(y + beside)] = {first + beside, end + beside};
  }
  clear(added_, width * height, side_by_side);
  eye_.reset(width, height, side_by_side, picture_.kernels.radius_px);
  for (std::size_t p = 0; p < colours; ++p)
    eye_.add(soft_[p].data(), picture_.kernels.planes[p], wanted_, added_[p].data());
}

void LikePatches::compare(const GrownMask& around, const Group& group, int margin, int width, int count,
                          std::vector<float>& measures) {
  const Planes& picture = picture_.seen;
  std::vector<glm::ivec2> pixels;
  for (int y = 0; y < around.height; ++y)
    for (int x = 0; x < around.width; ++x)
      if (around.has(x, y)) pixels.emplace_back(x - around.margin, y - around.margin);
  clear(seen_, static_cast<int>(pixels.size()), side_by_side);
  clear(there_, static_cast<int>(pixels.size()), side_by_side);
  for (std::size_t n = 0; n < pixels.size(); ++n)
    for (std::size_t k = 0; k < side_by_side; ++k) {
      const glm::ivec2 at = glm::clamp(group[k].at + pixels[n], glm::ivec2(0),
                                       glm::ivec2(picture.width_px - 1, picture.height_px - 1));
      const std::size_t from = picture.offset(at.x, at.y);
      const std::size_t change =
          (static_cast<std::size_t>(pixels[n].y + margin) * static_cast<std::size_t>(width) +
           static_cast<std::size_t>(pixels[n].x + margin)) *
              side_by_side +
          k;
      for (std::size_t p = 0; p < colours; ++p) {
        seen_[p][n * side_by_side + k] = picture.plane[p][from];
        there_[p][n * side_by_side + k] = added_[p][change];
      }
    }
  squaredDifferences(seen_, there_, squares_);
  for (std::size_t k = 0; k < static_cast<std::size_t>(count); ++k) {
    std::vector<float> differences;
    differences.reserve(pixels.size());
    for (std::size_t n = 0; n < pixels.size(); ++n) {
      const glm::ivec2 at = group[k].at + pixels[n];
      if (at.x >= 0 && at.y >= 0 && at.x < picture.width_px && at.y < picture.height_px)
        differences.push_back(squares_[n * side_by_side + k]);
    }
    measures.push_back(
        std::sqrt(static_cast<float>(nearestRank(std::move(differences), difference_percentile))));
  }
}

}  // namespace petalproof::reading
