#include "engine/reading/internal/texture.h"

#include "engine/base/hash.h"
#include "engine/base/picture_memory.h"
#include "engine/base/units.h"
#include "engine/picture/row_loops.h"

#include <glm/gtc/type_ptr.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::reading {
namespace {

constexpr int tries_each = 24;

}  // namespace

BloomOnly::BloomOnly(const picture::WorkingPicture& picture, const Pool& pool)
    : width_(picture.size.width_px), height_(picture.size.height_px) {
  const std::size_t stride = static_cast<std::size_t>(width_) + 1;
  resizePicture(others_before_, stride * static_cast<std::size_t>(height_), pool);
  pool.forEach(static_cast<std::size_t>(height_), [&](std::size_t row) {
    const float* share = picture.bloom_share.data() + row * static_cast<std::size_t>(width_);
    std::uint32_t* before = others_before_.data() + row * stride;
    before[0] = 0;
    for (int x = 0; x < width_; ++x) before[x + 1] = before[x] + (share[x] < least_share ? 1U : 0U);
  });
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

void squaredDifferences(const std::array<std::vector<float>, 3>& seen,
                        const std::array<std::vector<float>, 3>& added, std::vector<float>& out) {
  static const glm::mat3 relativeFromOpponent = relativeXyzFromOpponent();
  out.resize(seen[0].size());
  picture::squaredLabDifferences(
      glm::value_ptr(relativeFromOpponent), {seen[0].data(), seen[1].data(), seen[2].data()},
      {added[0].data(), added[1].data(), added[2].data()}, out.data(), static_cast<int>(out.size()));
}

double differenceOver(const GrownMask& around, const Planes& seen, glm::ivec2 at, const Planes& change) {
  std::array<std::vector<float>, 3> as_is;
  std::array<std::vector<float>, 3> added;
  for (int y = 0; y < around.height; ++y)
    for (int x = 0; x < around.width; ++x) {
      const glm::ivec2 place = at + glm::ivec2(x - around.margin, y - around.margin);
      const bool outside =
          place.x < 0 || place.y < 0 || place.x >= seen.width_px || place.y >= seen.height_px;
      if (outside || !around.has(x, y)) continue;
      const std::size_t k = seen.offset(place.x, place.y);
      for (std::size_t p = 0; p < 3; ++p) {
        as_is[p].push_back(seen.plane[p][k]);
        added[p].push_back(change.plane[p][k]);
      }
    }
  std::vector<float> squares;
  squaredDifferences(as_is, added, squares);
  return std::sqrt(nearestRank(std::move(squares), difference_percentile));
}

double nearestRank(std::vector<float> values, double share) {
  if (values.empty()) return 0;
  const auto count = static_cast<double>(values.size());
  const auto rank = static_cast<std::ptrdiff_t>(std::clamp(std::ceil(share * count - 1e-9), 1.0, count));
  std::nth_element(values.begin(), values.begin() + (rank - 1), values.end());
  return static_cast<double>(values[static_cast<std::size_t>(rank - 1)]);
}

}  // namespace petalproof::reading
