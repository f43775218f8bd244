#include "engine/reading/ambient_occlusion.h"

#include "engine/base/units.h"
#include "tests/reading/occlusion_reference.h"
#include "tests/reading/simple_walls.h"

#include <doctest/doctest.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

namespace petalproof::testing {
namespace {

constexpr Colour any_colour{120, 120, 120};

float onBoard(const Scene& scene, glm::vec2 place) {
  return ambientOcclusion(scene, std::vector<SurfacePlace>{{glm::vec3(place, 0.0F), {0, 0, 1}}}).front();
}

// Upright on the board along x = `x`, endless but for the numbers.
Mesh tallWall(float x, float height_mm) {
  constexpr float far_mm = 20000;
  return quad({x, -far_mm, 0}, {x, far_mm, 0}, {x, far_mm, height_mm}, {x, -far_mm, height_mm});
}

TEST_CASE("a place on an open plane sees all of the sky") {
  CHECK(onBoard(bareWall(1, 0), {300, 200}) == doctest::Approx(1).epsilon(1e-5));
}

TEST_CASE("beside a tall wall half of the sky is left") {
  Scene scene = bareWall(1, 0);
  hang(scene, tallWall(300, 20000), any_colour);
  CHECK(onBoard(scene, {310, 200}) == doctest::Approx(0.5).epsilon(0.03));
  CHECK(onBoard(scene, {303, 200}) == doctest::Approx(0.5).epsilon(0.05));
}

// A flat strip seen from a place fills (sin b - sin a) / 2 by cosine, a and b its edges' angles from the
// normal (plane element to an infinitely long strip; J. R. Howell, A Catalog of Radiation Heat Transfer
// Configuration Factors, 1982).
TEST_CASE("on the floor of a slot") {
  for (const float width : {20.0F, 60.0F, 200.0F}) {
    for (const float aside : {0.0F, 0.3F}) {
      CAPTURE(width);
      CAPTURE(aside);
      constexpr float depth = 40;
      Scene scene = bareWall(1, 0);
      hang(scene, tallWall(300 - width / 2, depth), any_colour);
      hang(scene, tallWall(300 + width / 2, depth), any_colour);
      const auto sine = [](float across) { return across / std::hypot(across, depth); };
      const float expected = (sine(width * (0.5F - aside)) + sine(width * (0.5F + aside))) / 2;
      CHECK(std::abs(onBoard(scene, {300 + aside * width, 200}) - expected) < 0.03F);
    }
  }
}

// A disc over a parallel element on its axis fills sin^2 of its half angle (the same catalogue).
TEST_CASE("under a disc that floats over the board") {
  for (const float height : {15.0F, 30.0F, 80.0F}) {
    CAPTURE(height);
    constexpr float radius = 40;
    constexpr std::uint32_t corners = 128;
    Mesh disc;
    disc.vertices.push_back({300, 200, height});
    for (std::uint32_t k = 0; k < corners; ++k) {
      const auto angle = static_cast<float>(2 * pi * k / corners);
      disc.vertices.push_back({300 + radius * std::cos(angle), 200 + radius * std::sin(angle), height});
      disc.triangles.push_back({0, 1 + k, 1 + (k + 1) % corners});
    }
    Scene scene = bareWall(1, 0);
    hang(scene, disc, any_colour);
    const float expected = 1 - radius * radius / (radius * radius + height * height);
    CHECK(std::abs(onBoard(scene, {300, 200}) - expected) < 0.03F);
  }
}

TEST_CASE("a petal's upper side is open, its lower side sees only the board") {
  Scene scene = bareWall(1, 0);
  hang(scene, card({300, 200, 30}, 50), any_colour);
  const std::vector<float> open = ambientOcclusion(
      scene, std::vector<SurfacePlace>{{{300, 200, 30}, {0, 0, 1}}, {{300, 200, 30}, {0, 0, -1}}});
  CHECK(open[0] == doctest::Approx(1).epsilon(1e-5));
  CHECK(open[1] < 0.02F);  // but for what comes in under it from far beside the wall
}

TEST_CASE("an upright petal at the wall's outer edge sees past it, in the middle it doesn't") {
  Scene scene = bareWall(1, 0);
  const SurfacePlace outwards{{599, 200, 30}, {1, 0, 0}};
  const SurfacePlace inside{{300, 200, 30}, {1, 0, 0}};
  const std::vector<float> open = ambientOcclusion(scene, std::vector<SurfacePlace>{outwards, inside});
  CHECK(open[0] > 0.95F);
  CHECK(open[1] == doctest::Approx(OcclusionReference(scene).openness(inside, 1)).epsilon(0.06));
}

struct Demo {
  LoadedPlan loaded = *loadPlan(PETALPROOF_SOURCE_DIR "/assets/plans/demo.toml").value;
  Scene scene = *buildScene(loaded).value;

  std::vector<Camera> cameras() const {
    std::vector<Camera> cameras;
    for (const Shot& shot : loaded.plan.shots) {
      cameras.push_back(scaledTo(*makeCamera(shot, wallFrameOf(loaded.plan)).value, 1600));
    }
    return cameras;
  }
};

TEST_CASE("near the gaps of the demo it agrees with 16,384 of Embree's rays") {
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
  constexpr std::size_t count = 60;  // they take long there
#else
  constexpr std::size_t count = 500;
#endif
  constexpr std::uint64_t seed = 20;
  CAPTURE(seed);
  const Demo demo;
  const std::vector<SurfacePlace> places = placesNearGaps(demo.scene, demo.cameras(), count, 40, seed);
  const std::vector<float> ours = ambientOcclusion(demo.scene, places);
  const OcclusionReference reference(demo.scene);
  std::vector<float> errors(count);
  tbb::parallel_for(std::size_t{0}, count, [&](std::size_t k) {
    errors[k] = std::abs(ours[k] - reference.openness(places[k], seed + k));
  });
  std::sort(errors.begin(), errors.end());
  CAPTURE(errors[count / 2]);
  CHECK(errors[count * 95 / 100 - 1] <= 0.03F);
  CHECK(errors.back() <= 0.06F);
}

TEST_CASE("it doesn't depend on the number of threads, nor on the other places asked for") {
  Scene scene = bareWall(1, 0);
  hang(scene, card({300, 200, 30}, 50), any_colour);
  hang(scene, card({340, 230, 12}, 60), any_colour);
  std::vector<SurfacePlace> places;
  for (int k = 0; k < 3000; ++k) {
    places.push_back(
        {{200.0F + 0.07F * static_cast<float>(k), 160.0F + 0.03F * static_cast<float>(k), 0}, {0, 0, 1}});
  }
  const std::vector<float> one = ambientOcclusion(scene, places, 1);
  CHECK(ambientOcclusion(scene, places, 2) == one);
  CHECK(ambientOcclusion(scene, places, 7) == one);
  const std::vector<SurfacePlace> few(places.begin() + 1000, places.begin() + 1010);
  const std::vector<float> alone = ambientOcclusion(scene, few, 2);
  CHECK(std::equal(alone.begin(), alone.end(), one.begin() + 1000));
}

}  // namespace
}  // namespace petalproof::testing
