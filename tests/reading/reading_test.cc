#include "engine/reading/reading.h"

#include "engine/reading/internal/gap_mask.h"
#include "engine/reading/internal/smooth_fill.h"
#include "engine/reading/internal/texture.h"
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
  CHECK(readingOf(2.29, 0, usual) == Reads::lost);
  CHECK(readingOf(2.3, 0, usual) == Reads::faint);
  CHECK(readingOf(4.99, 0, usual) == Reads::faint);
  CHECK(readingOf(5, 0, usual) == Reads::shows);
  CHECK(readingOf(10, 20, usual) == Reads::lost);     // half of the texture
  CHECK(readingOf(10.1, 20, usual) == Reads::faint);  // above half of it
  CHECK(readingOf(20, 20, usual) == Reads::faint);
  CHECK(readingOf(20.1, 20, usual) == Reads::shows);
  CHECK(readingOf(4, 0, {1, 3}) == Reads::shows);
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
    CHECK(window.lightOf(window.pixel(x, 1))[0] == doctest::Approx(1 - 0.125 * x).epsilon(0.03));
    CHECK(window.lightOf(window.pixel(x, 1))[1] == doctest::Approx(0.25).epsilon(0.02));
  }
}

TEST_CASE("without blur the difference is that of the whole pictures, with the gap and without") {
  WorkingPicture picture = even(160, 140, red);
  const std::vector<Gap> gaps{makeBare(picture, 1, 60, 50, 9, 5, pale),
                              makeBare(picture, 2, 100, 90, 2, 20, pale)};
  const std::vector<Reading> readings = readAll(picture, gaps);
  const std::vector<float> map = scielabDifference(imageOf(picture), imageOf(even(160, 140, red)),
                                                   picture.size.pixels_per_degree, testing::allThreads());
  for (std::size_t g = 0; g < gaps.size(); ++g) {
    std::vector<float> inside;
    for (const Run& run : gaps[g].runs)
      for (int x = run.begin; x < run.end; ++x)
        inside.push_back(map[static_cast<std::size_t>(run.row * 160 + x)]);
    CHECK(readings[g].difference == doctest::Approx(nearestRank(inside, 0.99)).epsilon(2e-3));
    CHECK(readings[g].difference > 5);
    CHECK(readings[g].reads == Reads::shows);
    CHECK(readings[g].texture < 0.01);  // even ground
  }
}

TEST_CASE("readings don't depend on the number of threads") {
  WorkingPicture picture = petals(300, 260, 3);
  std::vector<Gap> gaps;
  for (int k = 0; k < 12; ++k)
    gaps.push_back(makeBare(picture, k + 1, 20 + 22 * k, 40 + 15 * k, 3 + k % 4, 4, pale));
  const std::vector<Reading> one = readAll(picture, gaps, 5, 1);
  for (const int threads : {2, 7}) {
    const std::vector<Reading> other = readAll(picture, gaps, 5, threads);
    for (std::size_t k = 0; k < gaps.size(); ++k) {
      CHECK(one[k].difference == other[k].difference);
      CHECK(one[k].texture == other[k].texture);
      CHECK(one[k].reads == other[k].reads);
    }
  }
}

TEST_CASE("of 200 control patches that show no board at most 15 % read as showing") {
  int showing = 0;
  for (unsigned seed = 1; seed <= 20 / synthetic::fewer; ++seed) {
    WorkingPicture picture = petals(420, 420, seed);
    std::mt19937 random(seed);
    std::vector<Gap> gaps;
    for (int k = 0; k < 10; ++k) {
      const int x0 = 30 + 38 * k + static_cast<int>(random() % 8);
      const int y0 = 30 + static_cast<int>(random() % 350);
      WorkingPicture before = picture;
      gaps.push_back(makeBare(picture, k + 1, x0, y0, 3 + static_cast<int>(random() % 10),
                              3 + static_cast<int>(random() % 10), pale));
      // The "bare" pixels keep the petals' own light.
      for (std::size_t p = 0; p < picture.bare.size(); ++p)
        if (picture.bare_share[p] > 0 && before.bare_share[p] <= 0) picture.bare[p] = before.front[p];
    }
    for (const Reading& reading : readAll(picture, gaps, 3)) showing += reading.reads == Reads::shows;
  }
  CAPTURE(showing);
  CHECK(showing <= static_cast<int>(30 / synthetic::fewer));
  CHECK(showing >=
        static_cast<int>(4 / synthetic::fewer));  // the rule lets a tenth through by its own percentile
}

TEST_CASE("a straight pale seam reads at least as much as its area in scattered slivers") {
  for (unsigned seed = 1; seed <= 5; ++seed) {
    CAPTURE(seed);
    WorkingPicture with_seam = petals(500, 400, seed);
    const std::vector<Gap> seam{makeBare(with_seam, 1, 120, 200, 240, 3, pale)};
    WorkingPicture with_slivers = petals(500, 400, seed);
    std::vector<Gap> slivers;
    for (int k = 0; k < 40; ++k)
      slivers.push_back(makeBare(with_slivers, k + 1, 40 + 44 * (k % 10), 60 + 80 * (k / 10), 6, 3, pale));
    const Reading line = readAll(with_seam, seam, 4)[0];
    const std::vector<Reading> scattered = readAll(with_slivers, slivers, 4);
    double mean = 0;
    for (const Reading& one : scattered) {
      mean += one.difference / 40;
      CHECK(static_cast<int>(line.reads) >= static_cast<int>(one.reads));
    }
    CHECK(line.difference >= mean);
  }
}

TEST_CASE("a sliver on even ground reads at least as much as one among petals") {
  for (unsigned seed = 1; seed <= 10 / synthetic::fewer; ++seed) {
    CAPTURE(seed);
    WorkingPicture busy = petals(300, 300, seed, 1.6F);
    const glm::vec3 ground = busy.front[150 * 300 + 140];
    WorkingPicture calm = even(300, 300, ground);
    const Reading among = readAll(busy, {makeBare(busy, 1, 140, 140, 4, 12, pale)}, 3)[0];
    const Reading alone = readAll(calm, {makeBare(calm, 1, 140, 140, 4, 12, pale)}, 3)[0];
    CHECK(static_cast<int>(alone.reads) >= static_cast<int>(among.reads));
    CHECK(alone.texture <= among.texture);
  }
}

TEST_CASE("more blur never makes a gap read more, nor does a board nearer in colour") {
  // But for a few per cent: the light-dark kernel has a negative lobe.
  constexpr double slack = 1.04;
  for (unsigned seed = 1; seed <= 12 / synthetic::fewer; ++seed) {
    CAPTURE(seed);
    WorkingPicture picture = petals(260, 260, seed);
    const int width = 2 + static_cast<int>(seed % 5);
    const WorkingPicture covered = picture;
    const std::vector<Gap> gaps{makeBare(picture, 1, 120, 110, width, 9, pale)};
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
      const std::vector<Gap> same{makeBare(nearer, 1, 120, 110, width, 9, red + share * (pale - red))};
      const double now = readAll(nearer, same, 4)[0].difference;
      CAPTURE(share);
      CHECK(now <= before * slack);
      before = now;
    }
  }
}

TEST_CASE("a bare wall without a bloom shows") {
  WorkingPicture picture = even(100, 100, red);
  const Gap all = makeBare(picture, 1, 0, 0, 100, 100, pale);
  const Reading reading = readAll(picture, {all}, 4)[0];
  CHECK(reading.texture == 0);
  CHECK(reading.reads == Reads::shows);
}
