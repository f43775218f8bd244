#include "engine/gaps/internal/inscribed_circle.h"
#include "tests/gaps/synthetic.h"
#include "tests/support/sanitized.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::gaps;

namespace {

constexpr double tau = 6.28318530717958648;

// A place of the ellipse in a footprint, and the ellipse's outward normal there.
struct OnEllipse {
  glm::dvec2 place{0};
  glm::dvec2 normal{0};
};

OnEllipse onEllipse(const Footprint& pixel, double angle) {
  const glm::dvec2 from_centre =
      std::cos(angle) * pixel.half_across_mm + std::sin(angle) * pixel.half_down_mm;
  const glm::dvec2 along = std::cos(angle) * pixel.half_down_mm - std::sin(angle) * pixel.half_across_mm;
  const glm::dvec2 normal = glm::normalize(glm::dvec2(along.y, -along.x));
  return {pixel.centre_mm + from_centre, glm::dot(normal, from_centre) < 0 ? -normal : normal};
}

// From a place outside to the nearest of many places of the ellipse, looked at twice as closely around the
// first nearest.
double slowDistance(const Footprint& pixel, glm::dvec2 place) {
  constexpr int looks = 48;
  double nearest = std::numeric_limits<double>::infinity();
  double nearest_angle = 0;
  double begin = 0;
  double step = tau / looks;
  for (int round = 0; round < 2; ++round) {
    for (int k = 0; k < looks; ++k) {
      const double distance = glm::distance(place, onEllipse(pixel, begin + step * k).place);
      if (distance >= nearest) continue;
      nearest = distance;
      nearest_angle = begin + step * k;
    }
    begin = nearest_angle - step;
    step = 2 * step / looks;
  }
  return nearest;
}

// The distance from a place to the nearest pixel that isn't in the region, or any that is at most `needed`.
double slowRoom(const PixelRegion& region, const BoardMapping& mapping, glm::dvec2 place, double needed) {
  double room = std::numeric_limits<double>::infinity();
  for (int y = region.top() - 1; y <= region.top() + region.height(); ++y)
    for (int x = region.left() - 1; x <= region.left() + region.width(); ++x) {
      if (region.has(x, y)) continue;
      const Footprint pixel = mapping.footprintAt({x + 0.5, y + 0.5});
      if (glm::distance(pixel.centre_mm, place) - pixel.largestRadius() < room)
        room = std::min(room, slowDistance(pixel, place));
      if (room <= needed) return room;
    }
  return room;
}

// Twice the most room of any of `columns` x 3 places in each pixel.
double slowWidth(const PixelRegion& region, const BoardMapping& mapping, int columns) {
  double most = 0;
  for (const Run& run : region.runs())
    for (int i = run.begin * columns; i < run.end * columns; ++i)
      for (int j = 0; j < 3; ++j) {
        const glm::dvec2 px((i + 0.5) / columns, run.row + (j + 0.5) / 3);
        most = std::max(most, slowRoom(region, mapping, mapping.board(px), most));
      }
  return 2 * most;
}

// A picture of a board that is seen obliquely: a pixel is `sides` mm x 1 mm, every row lies `shear_mm`
// further to the right than the row above, and on the board's far sides pixels are larger.
BoardMapping obliqueMapping(Random& random, double sides) {
  const double shear_mm = sides * random.between(-0.5, 0.5);
  const double farther = 0.004;
  return BoardMapping(glm::dmat3(glm::dvec3(sides, 0, random.between(-farther, farther)),
                                 glm::dvec3(shear_mm, 1, random.between(-farther, farther)),
                                 glm::dvec3(0, 0, 1)));
}

constexpr int mask_px = 14;

// Three ellipses and up to three lone pixels that aren't bare, as runs.
std::vector<Run> randomRuns(Random& random) {
  std::vector<std::string> rows(mask_px, std::string(mask_px, '.'));
  for (int k = 0; k < 3; ++k) {
    const glm::dvec2 centre(random.between(4, 10), random.between(4, 10));
    const glm::dvec2 radii(random.between(1, 5), random.between(1, 6));
    for (int y = 0; y < mask_px; ++y)
      for (int x = 0; x < mask_px; ++x)
        if (glm::length((glm::dvec2(x + 0.5, y + 0.5) - centre) / radii) <= 1)
          rows[static_cast<std::size_t>(y)][static_cast<std::size_t>(x)] = '#';
  }
  for (int k = random.whole(0, 3); k > 0; --k)
    rows[static_cast<std::size_t>(random.whole(0, mask_px - 1))]
        [static_cast<std::size_t>(random.whole(0, mask_px - 1))] = '.';
  std::vector<Run> runs;
  for (int y = 0; y < mask_px; ++y) {
    const std::string& row = rows[static_cast<std::size_t>(y)];
    for (std::size_t x = row.find('#'); x < row.size();) {
      const std::size_t end = std::min(row.find('.', x), row.size());
      runs.push_back({y, static_cast<int>(x), static_cast<int>(end), 1});
      x = row.find('#', end);
    }
  }
  return runs;
}

}  // namespace

TEST_CASE("a place on an ellipse's normal is as far from the ellipse as from the normal's foot") {
  for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const auto vector = [&](double most) {
      return glm::dvec2(random.between(-most, most), random.between(-most, most));
    };
    const double thin = seed % 4 == 0 ? 1e-3 : 1;
    const glm::dvec2 across = vector(10);
    const Footprint pixel{vector(1000), across, thin * vector(10) + (seed % 2 == 0 ? 0.0 : 1.0) * across};
    const OnEllipse foot = onEllipse(pixel, random.between(0, tau));
    const double away = std::pow(10, random.between(-3, 3));
    const glm::dvec2 place = foot.place + away * foot.normal;
    CHECK(std::abs(pixel.distanceTo(place) - away) < 1e-6 * away + 1e-5 * pixel.largestRadius());
    CHECK(pixel.leastDistance(pixel.centre_mm - place) < away + 1e-9);
  }
}

TEST_CASE("places within an ellipse, and a pixel that is a point or is seen edge-on") {
  const Footprint pixel{{3, 4}, {5, 0}, {2, 0.5}};
  CHECK(pixel.distanceTo({3, 4}) == 0);
  CHECK(pixel.distanceTo({7, 4.1}) == 0);
  CHECK(Footprint{{3, 4}, {0, 0}, {0, 0}}.distanceTo({0, 0}) == doctest::Approx(5));
  const Footprint edge_on{{0, 0}, {4, 0}, {3, 0}};  // from -5 to 5
  CHECK(edge_on.distanceTo({0, 2}) == doctest::Approx(2).epsilon(1e-5));
  CHECK(edge_on.distanceTo({8, 4}) == doctest::Approx(5).epsilon(1e-5));
}

TEST_CASE("widths of shapes seen obliquely are those of the largest circles between their pixels' ellipses") {
  for (std::uint64_t seed = 1; seed <= testing::fewerIfSanitized<std::uint64_t>(32); ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const double sides = std::exp(random.between(0, std::log(8.0)));
    const BoardMapping mapping = obliqueMapping(random, sides);
    const std::vector<Run> runs = randomRuns(random);
    PixelRegion region;
    region.assign(runs);
    const FootprintSizes sizes = footprintSizesOf(region, mapping);
    CircleScratch scratch;
    const double width = widthOf(region, mapping, sizes, scratch);
    const double slow = slowWidth(region, mapping, static_cast<int>(std::ceil(3 * sides)));
    CAPTURE(sides);
    CAPTURE(sizes.smallest_mm);
    CHECK(std::abs(width - slow) < 0.45 * sizes.smallest_mm);
  }
}

TEST_CASE("a circle is found behind thousands of places that promise more room than they have") {
  // Steps between neighbouring pixels are 1 / cos(22.5 deg) = 1.08 times as long as the straight way across a
  // strip at 22.5 degrees, and right across an upright one. A long strip of the first kind, 80 px wide, and
  // by a neck of 4 px an upright one of 84.
  const double angle = tau / 16;
  const glm::dvec2 along(std::cos(angle), std::sin(angle));
  const auto strip = [&](int x, int y) {
    const glm::dvec2 from = glm::dvec2(x + 0.5, y + 0.5) - glm::dvec2(200, 60);
    return std::abs(from.x * along.y - from.y * along.x) <= 40 && glm::dot(from, along) >= 0 &&
           glm::dot(from, along) <= 3000;
  };
  const MaskPicture picture = pictureOfMask(3100, 1400, [&](int x, int y) {
    return strip(x, y) || (x >= 40 && x < 124 && y >= 10 && y < 310) ||
           (x >= 124 && x < 240 && y >= 70 && y < 74);
  });
  const GapsOfShot found = findGaps(picture.buffer, picture.panels, picture.camera);
  REQUIRE(found.gaps.size() == 1);
  CHECK(std::abs(found.gaps.front().width_mm - 84) < 0.5);
}
