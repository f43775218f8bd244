#include "engine/reading/reading.h"

#include "engine/reading/internal/difference.h"
#include "engine/reading/internal/gap_mask.h"
#include "engine/reading/internal/smooth_fill.h"
#include "engine/reading/scielab.h"
#include "tests/reading/synthetic_petals.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::gaps;
using namespace petalproof::picture;
using namespace petalproof::reading;
using synthetic::even;
using synthetic::makeBare;
using synthetic::petals;
using synthetic::readAll;

namespace {

const glm::vec3 pale(0.8F, 0.79F, 0.76F);
const glm::vec3 red(0.3F, 0.12F, 0.1F);

LinearImage imageOf(const WorkingPicture& picture) {
  LinearImage image{picture.size.width_px, picture.size.height_px, picture.front};
  for (std::size_t k = 0; k < image.pixels.size(); ++k)
    image.pixels[k] =
        (1 - picture.bare_share[k]) * picture.front[k] + picture.bare_share[k] * picture.bare[k];
  return image;
}

}  // namespace

TEST_CASE("the rule: lost, faint, shows") {
  const ReadingThresholds usual;
  CHECK(readsAs(2.29, 1, true, usual) == Reads::lost);  // nobody sees the difference
  CHECK(readsAs(2.3, 1, true, usual) == Reads::shows);
  CHECK(readsAs(60, 0.74, true, usual) == Reads::lost);  // a quarter of the pieces stands out more
  CHECK(readsAs(60, 0.75, true, usual) == Reads::faint);
  CHECK(readsAs(60, 0.9, true, usual) == Reads::faint);
  CHECK(readsAs(60, 0.901, true, usual) == Reads::shows);
  CHECK(readsAs(60, 1, false, usual) == Reads::faint);  // too small to be made out
  CHECK(readsAs(4, 0.6, true, {5, 0.2, 0.5}) == Reads::lost);
  CHECK(readsAs(6, 0.6, true, {5, 0.2, 0.5}) == Reads::shows);
}

TEST_CASE("what is narrower than 3' is made out only as a line") {
  PatchLooks seam;
  seam.length_arcmin = 100;
  seam.stray_arcmin = 1;
  CHECK(canBeMadeOut(seam, 1));          // 100 times as long as wide
  CHECK_FALSE(canBeMadeOut(seam, 0.9));  // strays by more than its width
  seam.length_arcmin = 20;
  seam.stray_arcmin = 0.5;
  CHECK_FALSE(canBeMadeOut(seam, 1));  // one of many short edges
  CHECK(canBeMadeOut(seam, 3));
  seam.length_arcmin = 22;
  CHECK_FALSE(canBeMadeOut(seam, 2.9));
}

TEST_CASE("percentiles are by the nearest rank") {
  std::vector<float> values(100);
  std::iota(values.begin(), values.end(), 1.0F);
  CHECK(nearestRank(values, 0.99) == 99);
  CHECK(nearestRank(values, 0.5) == 50);
  CHECK(nearestRank({7}, 0.9) == 7);
  // NIST/SEMATECH e-Handbook of Statistical Methods, percentiles: rank = ceil(p n).
  CHECK(nearestRank({15, 20, 35, 40, 50}, 0.3) == 20);
  CHECK(nearestRank({15, 20, 35, 40, 50}, 0.4) == 20);
  CHECK(nearestRank({15, 20, 35, 40, 50}, 1) == 50);
  CHECK(nearestRank({}, 0.5) == 0);
}

TEST_CASE("a gap's mask keeps its area on another pixel grid") {
  const std::vector<Run> runs{{3, 2, 9, 1}, {4, 1, 10, 1}, {5, 4, 5, 1}};
  const GapMask mask = maskOf(runs, 120, 90, {50, 41, 60});
  const double sum = std::accumulate(mask.share.begin(), mask.share.end(), 0.0);
  CHECK(sum == doctest::Approx(17 * (50.0 / 120) * (41.0 / 90)).epsilon(1e-6));
  CHECK(mask.left == 0);
  CHECK(mask.top == 1);
}

TEST_CASE("a grown mask holds what lies within reach, and no more") {
  const GapMask mask = maskOf({{5, 5, 6, 1}}, 20, 20, {20, 20, 60});
  for (const double reach : {0.0, 1.0, 1.5, 4.3}) {
    const GrownMask large = grown(mask, reach);
    for (int y = 0; y < large.height; ++y)
      for (int x = 0; x < large.width; ++x)
        CHECK((large.inside[static_cast<std::size_t>(y * large.width + x)] != 0) ==
              (std::hypot(x - large.margin, y - large.margin) <= reach));
  }
}

TEST_CASE("a hole is filled smoothly from its border") {
  for (const int size : {5, 9, 30, 60}) {
    CAPTURE(size);
    FillWindow window;
    window.reset(size, size, 2);
    const auto ramp = [size](int x, int y) {
      return glm::vec2(0.2F + 0.6F * static_cast<float>(x) / static_cast<float>(size),
                       0.9F - 0.4F * static_cast<float>(y) / static_cast<float>(size));
    };
    for (int y = 0; y < size; ++y)
      for (int x = 0; x < size; ++x) {
        const bool rim = x == 0 || y == 0 || x == size - 1 || y == size - 1;
        const std::size_t k = window.pixel(x, y);
        window.wanted[k] = rim ? 0 : 1;
        for (int n = 0; rim && n < 2; ++n) {
          window.lightOf(k)[n] = ramp(x, y)[n];
          window.knownOf(k)[n] = 1;
        }
      }
    SmoothFill().fill(window);
    // Laplace's equation between linear borders is solved by the linear ramp.
    double worst = 0;
    for (int y = 0; y < size; ++y)
      for (int x = 0; x < size; ++x) {
        const float* light = window.lightOf(window.pixel(x, y));
        worst =
            std::max(worst, static_cast<double>(glm::distance(glm::vec2(light[0], light[1]), ramp(x, y))));
      }
    CHECK(worst < 0.03);
  }
}

TEST_CASE("numbers side by side are filled each from its own border, whatever takes no part") {
  FillWindow window;
  window.reset(7, 3, 2);
  // A row of five to be filled: the first number is known at both ends, the second at the right one only.
  for (int x = 1; x < 6; ++x) window.wanted[window.pixel(x, 1)] = 1;
  window.lightOf(window.pixel(0, 1))[0] = 1;
  window.knownOf(window.pixel(0, 1))[0] = 1;
  for (int n = 0; n < 2; ++n) {
    window.lightOf(window.pixel(6, 1))[n] = 0.25F;
    window.knownOf(window.pixel(6, 1))[n] = 1;
  }
  window.lightOf(window.pixel(3, 0))[0] = 99;  // not known
  SmoothFill().fill(window);
  for (int x = 1; x < 6; ++x) {
    CAPTURE(x);
    CHECK(window.lightOf(window.pixel(x, 1))[0] == doctest::Approx(1 - 0.125 * x).epsilon(0.06));
    CHECK(window.lightOf(window.pixel(x, 1))[1] == doctest::Approx(0.25).epsilon(0.02));
  }
}

TEST_CASE("without blur the difference is that of the whole pictures, with the hole and without") {
  WorkingPicture picture = even(160, 140, red);
  const std::vector<Hole> holes{makeBare(picture, 1, 60, 50, 9, 5, pale),
                                makeBare(picture, 2, 100, 90, 2, 20, pale)};
  const std::vector<Reading> readings = readAll(picture, holes);
  const std::vector<float> map = scielabDifference(imageOf(picture), imageOf(even(160, 140, red)),
                                                   picture.size.pixels_per_degree, testing::allThreads());
  for (std::size_t g = 0; g < holes.size(); ++g) {
    std::vector<float> inside;
    for (const Run& run : holes[g].whole.runs)
      for (int x = run.begin; x < run.end; ++x)
        inside.push_back(map[static_cast<std::size_t>(run.row * 160 + x)]);
    CHECK(readings[g].difference == doctest::Approx(nearestRank(inside, 0.99)).epsilon(1e-2));
    CHECK(readings[g].difference > 5);
    CHECK(readings[g].odder_than == 1);  // too few pieces to say
  }
}

TEST_CASE("a wide hole, seen by cells of several pixels, differs as one seen by pixels does") {
  for (const int side : {20, 60, 130}) {
    CAPTURE(side);
    WorkingPicture picture = even(300, 300, red);
    const Hole hole = makeBare(picture, 1, 70, 65, side, side, pale);
    const double ours = readAll(picture, {hole}, 0)[0].difference;
    const std::vector<float> map = scielabDifference(imageOf(picture), imageOf(even(300, 300, red)),
                                                     picture.size.pixels_per_degree, testing::allThreads());
    std::vector<float> inside;
    for (const Run& run : hole.whole.runs)
      for (int x = run.begin; x < run.end; ++x)
        inside.push_back(map[static_cast<std::size_t>(run.row * 300 + x)]);
    CHECK(ours == doctest::Approx(nearestRank(inside, 0.99)).epsilon(0.06));
  }
}

TEST_CASE("a piece of paper is measured as a hole of its own light would be") {
  WorkingPicture picture = even(200, 200, red);
  for (int y = 80; y < 95; ++y)
    for (int x = 60; x < 90; ++x) {
      picture.front[picture.offset(x, y)] = pale;
      picture.paper[picture.offset(x, y)] = 2;
    }
  const std::vector<PatchLooks> pieces = synthetic::lookAt(picture, {}).pieces;
  REQUIRE(pieces.size() == 2);
  WorkingPicture with_hole = even(200, 200, red);
  const PatchLooks hole =
      synthetic::lookAt(with_hole, {makeBare(with_hole, 1, 60, 80, 30, 15, pale)}).holes.front();
  const PatchLooks& piece = pieces[1];
  CHECK(piece.difference == doctest::Approx(hole.difference).epsilon(1e-4));
  CHECK(piece.area_arcmin2 == doctest::Approx(450));
  CHECK(hole.area_arcmin2 == doctest::Approx(450));
  CHECK(piece.length_arcmin == doctest::Approx(30));
  CHECK(piece.variation == doctest::Approx(hole.variation).epsilon(1e-3));
  for (int c = 0; c < 3; ++c) CHECK(piece.colour[c] == doctest::Approx(hole.colour[c]).epsilon(1e-3));
}

TEST_CASE("pieces of fewer than 12 pixels aren't measured") {
  WorkingPicture picture = even(60, 60, red);
  for (int x = 10; x < 21; ++x) picture.paper[picture.offset(x, 10)] = 2;
  for (int x = 10; x < 22; ++x) picture.paper[picture.offset(x, 30)] = 2;
  CHECK(synthetic::lookAt(picture, {}).pieces.size() == 2);  // one of them, and what lies around
}

TEST_CASE("readings don't depend on the number of threads, nor on the order of holes") {
  WorkingPicture picture = petals(300, 260, 3);
  std::vector<Hole> holes;
  for (int k = 0; k < 12; ++k)
    holes.push_back(makeBare(picture, k + 1, 20 + 22 * k, 40 + 15 * k, 3 + k % 4, 4, pale));
  const std::vector<Reading> one = readAll(picture, holes, 5, 1);
  for (const int threads : {2, 7}) {
    const std::vector<Reading> other = readAll(picture, holes, 5, threads);
    for (std::size_t k = 0; k < holes.size(); ++k) {
      CHECK(one[k].difference == other[k].difference);
      CHECK(one[k].odder_than == other[k].odder_than);
      CHECK(one[k].reads == other[k].reads);
    }
  }
  std::reverse(holes.begin(), holes.end());
  const std::vector<Reading> reversed = readAll(picture, holes, 5, 1);
  for (std::size_t k = 0; k < holes.size(); ++k)
    CHECK(reversed[k].odder_than == one[holes.size() - 1 - k].odder_than);
}

TEST_CASE("a straight pale seam shows, its area in scattered slivers doesn't") {
  for (unsigned seed = 1; seed <= 5; ++seed) {
    CAPTURE(seed);
    WorkingPicture with_seam = petals(500, 400, seed);
    const std::vector<Hole> seam{makeBare(with_seam, 1, 120, 200, 240, 2, pale)};
    WorkingPicture with_slivers = petals(500, 400, seed);
    std::vector<Hole> slivers;
    for (int k = 0; k < 40; ++k)
      slivers.push_back(makeBare(with_slivers, k + 1, 40 + 44 * (k % 10), 60 + 80 * (k / 10), 6, 2, pale));
    CHECK(readAll(with_seam, seam, 2)[0].reads == Reads::shows);
    for (const Reading& one : readAll(with_slivers, slivers, 2)) CHECK(one.reads != Reads::shows);
  }
}

TEST_CASE("more blur never makes a hole differ more, nor does a board nearer in colour") {
  // But for a few per cent: the light-dark kernel has a negative lobe.
  constexpr double slack = 1.04;
  for (unsigned seed = 1; seed <= 12 / synthetic::fewer; ++seed) {
    CAPTURE(seed);
    WorkingPicture picture = petals(260, 260, seed);
    const int width = 2 + static_cast<int>(seed % 5);
    const WorkingPicture covered = picture;
    const std::vector<Hole> gaps{makeBare(picture, 1, 120, 110, width, 9, pale)};
    double before = 1e9;
    for (const double blur : {0.0, 3.0, 6.0, 12.0, 24.0}) {
      const double now = readAll(picture, gaps, blur)[0].difference;
      CAPTURE(blur);
      CHECK(now <= before * slack);
      before = now;
    }
    before = 1e9;
    for (const float share : {1.0F, 0.7F, 0.4F, 0.1F}) {
      WorkingPicture nearer = covered;
      const std::vector<Hole> same{makeBare(nearer, 1, 120, 110, width, 9, red + share * (pale - red))};
      const double now = readAll(nearer, same, 4)[0].difference;
      CAPTURE(share);
      CHECK(now <= before * slack);
      before = now;
    }
  }
}

TEST_CASE("a bare wall without a bloom shows") {
  WorkingPicture picture = even(100, 100, red);
  const Hole all = makeBare(picture, 1, 0, 0, 100, 100, pale);
  CHECK(readAll(picture, {all}, 4)[0].reads == Reads::shows);
}
