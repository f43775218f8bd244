#include "engine/reading/internal/texture.h"

#include "engine/base/hash.h"
#include "engine/base/units.h"
#include "engine/reading/internal/disc.h"
#include "engine/reading/internal/row_loops.h"
#include "engine/reading/internal/smooth_fill.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

constexpr float all_bloom = 0.999F;
constexpr int tries_each = 24;
constexpr double percentile = 0.99;

std::size_t offsetIn(const WorkingPicture& picture, int x, int y) {
  return static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.size.width_px) +
         static_cast<std::size_t>(x);
}

// The mask's pixels to be filled, those around it to fill them from.
FillWindow fillWindowAt(const WorkingPicture& picture, const GapMask& mask, glm::ivec2 at) {
  FillWindow window;
  window.reset(mask.width + 2, mask.height + 2);
  for (int y = 0; y < window.height; ++y)
    for (int x = 0; x < window.width; ++x) {
      const glm::ivec2 place = at + glm::ivec2(x - 1, y - 1);
      if (place.x < 0 || place.y < 0 || place.x >= picture.size.width_px || place.y >= picture.size.height_px)
        continue;
      const std::size_t k = offsetIn(picture, place.x, place.y);
      if (picture.bloom_share[k] < all_bloom) continue;
      window.state[window.offset(x, y)] = FillState::known;
      window.light[window.offset(x, y)] = picture.front[k];
    }
  for (const MaskSpan& span : mask.spans)
    for (int x = span.begin; x < span.end; ++x)
      window.state[window.offset(x + 1, span.row + 1)] = FillState::wanted;
  return window;
}

// What the filling adds there, in opponent planes on the mask's window.
Planes changeAt(const WorkingPicture& picture, const GapMask& mask, glm::ivec2 at) {
  Planes change(mask.width, mask.height);
  FillWindow window = fillWindowAt(picture, mask, at);
  if (!fillSmoothly(window)) return change;
  for (const MaskSpan& span : mask.spans)
    for (int x = span.begin; x < span.end; ++x) {
      const glm::vec3 own = picture.front[offsetIn(picture, at.x + x, at.y + span.row)];
      const glm::vec3 added = opponentFromLinear(mask.share[mask.offset(x, span.row)] *
                                                 (window.light[window.offset(x + 1, span.row + 1)] - own));
      const std::size_t k = change.offset(x, span.row);
      for (std::size_t p = 0; p < 3; ++p) change.plane[p][k] = added[static_cast<int>(p)];
    }
  return change;
}

// Spread over the disc, on a window wider by `margin` each way.
Planes spread(const Planes& sharp, const Disc& disc, int margin) {
  Planes soft(sharp.width_px + 2 * margin, sharp.height_px + 2 * margin);
  const int pad = 2 * (margin + 1);
  const int padded = soft.width_px + pad;
  std::vector<float> row(static_cast<std::size_t>(padded));
  std::vector<float> sums(static_cast<std::size_t>(padded) + 1);
  for (std::size_t p = 0; p < 3; ++p)
    for (int y = 0; y < sharp.height_px; ++y) {
      std::copy_n(sharp.plane[p].data() + sharp.offset(0, y), sharp.width_px, row.data() + margin + pad / 2);
      runningSums(row.data(), padded, sums.data());
      for (int dy = -disc.reach(); dy <= disc.reach(); ++dy)
        addChord(sums.data(), disc.halfChord(dy), pad / 2, 1 / disc.area(),
                 soft.plane[p].data() + soft.offset(0, y + margin + dy), soft.width_px);
    }
  return soft;
}

// The disc of the bloom in the middle of the window.
double discAt(const SeenPicture& picture, const GapMask& mask, glm::ivec2 at) {
  const MaskSpan& span = mask.spans[mask.spans.size() / 2];
  const std::size_t k = offsetIn(picture.sharp, at.x + (span.begin + span.end) / 2, at.y + span.row);
  return picture.lens.diameter(picture.sharp.front_inverse_mm[k]);
}

}  // namespace

BloomOnly::BloomOnly(const WorkingPicture& picture)
    : width_(picture.size.width_px), height_(picture.size.height_px) {
  others_before_.reserve((static_cast<std::size_t>(width_) + 1) * static_cast<std::size_t>(height_));
  for (int y = 0; y < height_; ++y) {
    std::uint32_t others = 0;
    others_before_.push_back(0);
    for (int x = 0; x < width_; ++x) {
      if (picture.bloom_share[offsetIn(picture, x, y)] < all_bloom) ++others;
      others_before_.push_back(others);
    }
  }
}

bool BloomOnly::holds(const GapMask& mask, glm::ivec2 at) const {
  if (at.x < 0 || at.y < 0 || at.x + mask.width > width_ || at.y + mask.height > height_) return false;
  for (const MaskSpan& span : mask.spans) {
    const std::uint32_t* row = others_before_.data() + static_cast<std::size_t>(at.y + span.row) *
                                                           (static_cast<std::size_t>(width_) + 1);
    if (row[at.x + span.begin] != row[at.x + span.end]) return false;
  }
  return true;
}

std::vector<glm::ivec2> likePlaces(const GapMask& mask, const BloomOnly& bloom, double reach_px, int most,
                                   std::uint64_t seed) {
  std::vector<glm::ivec2> places;
  const auto tries = static_cast<std::uint64_t>(most * tries_each);
  for (std::uint64_t k = 0; k < tries && places.size() < static_cast<std::size_t>(most); ++k) {
    const double distance = reach_px * std::sqrt(unitFromHash(hashOf({seed, k, 1})));
    const double angle = 2 * pi * unitFromHash(hashOf({seed, k, 2}));
    const glm::ivec2 at(mask.left + static_cast<int>(std::lround(distance * std::cos(angle))),
                        mask.top + static_cast<int>(std::lround(distance * std::sin(angle))));
    if (bloom.holds(mask, at) && std::find(places.begin(), places.end(), at) == places.end())
      places.push_back(at);
  }
  return places;
}

double differenceOver(const GrownMask& around, const Planes& seen, glm::ivec2 at, const Planes& change,
                      glm::ivec2 change_at) {
  std::vector<float> differences;
  for (int y = 0; y < around.height; ++y)
    for (int x = 0; x < around.width; ++x) {
      const glm::ivec2 from_window(x - around.margin, y - around.margin);
      const glm::ivec2 place = at + from_window;
      if (around.inside[static_cast<std::size_t>(y) * static_cast<std::size_t>(around.width) +
                        static_cast<std::size_t>(x)] == 0)
        continue;
      if (place.x < 0 || place.y < 0 || place.x >= seen.width_px || place.y >= seen.height_px) continue;
      const glm::ivec2 there = change_at + from_window;
      const glm::vec3 as_is = seen.at(seen.offset(place.x, place.y));
      const glm::vec3 added = change.at(change.offset(there.x, there.y));
      differences.push_back(glm::distance(labFromOpponent(as_is), labFromOpponent(as_is + added)));
    }
  return nearestRank(std::move(differences), percentile);
}

double measureAt(const SeenPicture& picture, const GapMask& mask, glm::ivec2 at) {
  const double diameter = discAt(picture, mask, at);
  const Disc disc(diameter);
  const GrownMask around = grown(mask, diameter / 2);
  const int margin = std::max(disc.reach(), around.margin);
  const Planes change =
      seenByEyeAlone(spread(changeAt(picture.sharp, mask, at), disc, margin), picture.kernels);
  return differenceOver(around, picture.seen, at, change, {margin, margin});
}

double nearestRank(std::vector<float> values, double share) {
  if (values.empty()) return 0;
  const auto count = static_cast<double>(values.size());
  const auto rank = static_cast<std::ptrdiff_t>(std::clamp(std::ceil(share * count - 1e-9), 1.0, count));
  std::nth_element(values.begin(), values.begin() + (rank - 1), values.end());
  return static_cast<double>(values[static_cast<std::size_t>(rank - 1)]);
}

}  // namespace petalproof
