#include "engine/scene/handmade.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <vector>

using namespace petalproof;
using namespace petalproof::scene;

namespace {

Scene oneBloom(int panel_column) {
  Scene scene;
  scene.panels.columns = 2;
  scene.panels.rows = 1;
  scene.panels.panel_width_mm = 600;
  scene.panels.panel_height_mm = 500;
  scene.panels.has_panel = Grid<std::uint8_t>(2, 1, 1);
  BloomInstance bloom;
  bloom.at_mm = {200, 250};
  bloom.wallFromMesh[3] = {200, 250, 0};
  bloom.diameter_mm = 300;
  bloom.panel_column = panel_column;
  bloom.panel_row = panel_column < 0 ? -1 : 0;
  scene.blooms.push_back(bloom);
  return scene;
}

// Of a number that each of many builds gives.
struct Spread {
  double mean = 0;
  double deviation = 0;
};
template <class Measure>
Spread spreadOf(const Scene& scene, const HandErrors& errors, const Measure& measure) {
  constexpr int builds = 20'000;
  double sum = 0;
  double squares = 0;
  for (int k = 0; k < builds; ++k) {
    const HandBuild build(scene, errors, 7, static_cast<std::uint64_t>(k));
    const double value = measure(build.wallFromMesh(scene.blooms.front(), true));
    sum += value;
    squares += value * value;
  }
  const double mean = sum / builds;
  return {mean, std::sqrt(squares / builds - mean * mean)};
}

double lengthOf(const glm::vec3& axis) { return static_cast<double>(glm::length(axis)); }

}  // namespace

TEST_CASE("hands without errors hang blooms as planned") {
  const Scene scene = oneBloom(0);
  const HandBuild build(scene, {}, 1, 3);
  CHECK(build.wallFromMesh(scene.blooms.front(), true) == scene.blooms.front().wallFromMesh);
}

// A normal number set to three where it is more has 0.9975 of its deviation: its variance is
// (2 Phi(3) - 1) - 6 phi(3) + 9 * 2 (1 - Phi(3)).
TEST_CASE("each error has the deviation that was asked for") {
  constexpr double cut = 0.9975;
  const Scene scene = oneBloom(0);
  const auto near = [](double value, double expected) {
    return std::abs(value - expected) < 0.03 * expected;
  };
  const Spread size =
      spreadOf(scene, {0.04, 0, 0, 0, 0, 0}, [](const glm::mat4x3& m) { return lengthOf(m[0]); });
  CHECK(std::abs(size.mean - 1) < 0.002);
  CHECK(near(size.deviation, 0.04 * cut));
  const Spread depth =
      spreadOf(scene, {0, 0.15, 0, 0, 0, 0}, [](const glm::mat4x3& m) { return lengthOf(m[2]); });
  CHECK(near(depth.deviation, 0.15 * cut));
  const Spread across =
      spreadOf(scene, {0, 0, 12, 0, 0, 0}, [](const glm::mat4x3& m) { return static_cast<double>(m[3].x); });
  CHECK(std::abs(across.mean - 200) < 0.5);
  CHECK(near(across.deviation, 12 * cut));
  const Spread turn = spreadOf(scene, {0, 0, 0, 15, 0, 0}, [](const glm::mat4x3& m) {
    return std::atan2(static_cast<double>(m[0].y), static_cast<double>(m[0].x)) * 180 / 3.14159265358979;
  });
  CHECK(std::abs(turn.mean) < 0.5);
  CHECK(near(turn.deviation, 15 * cut));
  const Spread hang =
      spreadOf(scene, {0, 0, 0, 0, 4, 0}, [](const glm::mat4x3& m) { return static_cast<double>(m[3].y); });
  CHECK(near(hang.deviation, 4 * cut));
}

// The middle of the panel's left edge: a third of the way from there to the panel's middle the bloom moves by
// the panel's shift and a third of its tilt.
TEST_CASE("a panel that stands out takes its blooms along") {
  const Scene scene = oneBloom(0);
  const Spread out =
      spreadOf(scene, {0, 0, 0, 0, 0, 3}, [](const glm::mat4x3& m) { return static_cast<double>(m[3].z); });
  const double share = (300.0 - 200.0) / 300.0;  // of the way from the panel's middle to its edge
  const double expected = 3 * std::sqrt(0.5 + 0.5 * share * share) * 0.9975;
  CHECK(std::abs(out.deviation - expected) < 0.03 * expected);
}

TEST_CASE("a filler comes out as it would on the wall, also while it is only tried") {
  const Scene scene = oneBloom(-1);
  const HandBuild build(scene, {0.04, 0.15, 12, 15, 4, 3}, 5, 9);
  const BloomInstance& bloom = scene.blooms.front();
  CHECK(build.wallFromFiller(bloom.wallFromMesh, bloom.at_mm, false) == build.wallFromMesh(bloom, false));
  const HandBuild other(scene, {0.04, 0.15, 12, 15, 4, 3}, 5, 10);
  CHECK(other.wallFromMesh(bloom, false) != build.wallFromMesh(bloom, false));
}

TEST_CASE("moving one bloom changes how no other comes out") {
  Scene scene = oneBloom(0);
  scene.blooms.push_back(scene.blooms.front());
  scene.blooms.back().index = 1;
  const HandErrors errors{0.04, 0.15, 12, 15, 4, 3};
  const glm::mat4x3 before = HandBuild(scene, errors, 5, 9).wallFromMesh(scene.blooms.back(), true);
  scene.blooms.front().at_mm = {50, 60};
  scene.blooms.front().wallFromMesh[3] = {50, 60, 0};
  CHECK(HandBuild(scene, errors, 5, 9).wallFromMesh(scene.blooms.back(), true) == before);
}

// What one filler's errors are in one hanging tells nothing of those in another: two normal numbers.
TEST_CASE("fillers hung once more come out otherwise on the same wall") {
  const Scene scene = oneBloom(-1);
  Scene on_panel = oneBloom(0);
  const HandErrors errors{0.04, 0.15, 12, 15, 4, 3};
  const BloomInstance& filler = scene.blooms.front();
  const BloomInstance& bloom = on_panel.blooms.front();
  const HandBuild first(scene, errors, 5, 9);
  const HandBuild again = first.withFillersHungAgain(1);
  CHECK(first.withFillersHungAgain(0).wallFromMesh(filler, false) == first.wallFromMesh(filler, false));
  CHECK(again.wallFromMesh(filler, false) != first.wallFromMesh(filler, false));
  CHECK(again.wallFromMesh(filler, false) != first.withFillersHungAgain(2).wallFromMesh(filler, false));
  CHECK(again.wallFromMesh(bloom, false) == first.wallFromMesh(bloom, false));

  constexpr int builds = 20'000;
  double squares = 0;
  double products = 0;
  for (int k = 0; k < builds; ++k) {
    const HandBuild build(scene, {0, 0, 12, 0, 0, 0}, 7, static_cast<std::uint64_t>(k));
    const auto asideOf = [&](std::uint64_t time) {
      const glm::mat4x3 out = build.withFillersHungAgain(time).wallFromMesh(filler, false);
      return static_cast<double>(out[3].x) - 200;
    };
    squares += asideOf(1) * asideOf(1) / builds;
    products += asideOf(0) * asideOf(1) / builds;
  }
  CHECK(std::abs(std::sqrt(squares) - 12 * 0.9975) < 0.03 * 12);
  CHECK(std::abs(products) < 0.03 * 144);
}

// By its panel alone it stands where the panel does, however often it is hung.
TEST_CASE("fillers hung once more move with the same panel") {
  const Scene scene = oneBloom(-1);
  const HandBuild build(scene, {0, 0, 0, 0, 4, 3}, 5, 9);
  const BloomInstance& filler = scene.blooms.front();
  CHECK(build.withFillersHungAgain(1).wallFromMesh(filler, true) == build.wallFromMesh(filler, true));
  CHECK(build.wallFromMesh(filler, true) != filler.wallFromMesh);
}
