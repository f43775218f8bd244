#include "engine/scene/shapes.h"

#include "engine/base/units.h"
#include "tests/scene/mesh_looks.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <random>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::testing;

namespace {

constexpr double radius = 150;

ShapeSpec usual(const ShapeFacts& facts) {
  return {.shape = facts.shape,
          .diameter_mm = 2 * radius,
          .width_mm = 2 * radius * facts.width_share,
          .depth_mm = 2 * radius * facts.depth_share};
}

struct Extent {
  double farthest = 0;
  double left = 0;
  double right = 0;
  double bottom = 0;
  double top = 0;
  double low = 1e9;
  double high = -1e9;
};

Extent extentOf(const Mesh& mesh) {
  Extent extent;
  for (const glm::dvec3 p : mesh.vertices) {
    extent.farthest = std::max(extent.farthest, std::hypot(p.x, p.y));
    extent.left = std::min(extent.left, p.x);
    extent.right = std::max(extent.right, p.x);
    extent.bottom = std::min(extent.bottom, p.y);
    extent.top = std::max(extent.top, p.y);
    extent.low = std::min(extent.low, p.z);
    extent.high = std::max(extent.high, p.z);
  }
  return extent;
}

// The corners of each triangle by place: vertices at the very same place are one.
std::vector<Triangle> weldedTriangles(const Mesh& mesh) {
  std::map<std::tuple<float, float, float>, std::uint32_t> numbers;
  std::vector<Triangle> welded;
  for (const Triangle& t : mesh.triangles) {
    Triangle w{};
    for (std::size_t k = 0; k < 3; ++k) {
      const glm::vec3& p = mesh.vertices[t[k]];
      w[k] = numbers.try_emplace({p.x, p.y, p.z}, static_cast<std::uint32_t>(numbers.size())).first->second;
    }
    welded.push_back(w);
  }
  return welded;
}

// Pieces of paper: triangles joined by common corners of the mesh as it is stored.
std::vector<std::vector<Triangle>> piecesOfPaper(const std::vector<Triangle>& triangles,
                                                 std::size_t corners) {
  std::vector<std::uint32_t> root(corners);
  for (std::uint32_t k = 0; k < corners; ++k) root[k] = k;
  const auto find = [&](std::uint32_t k) {
    while (root[k] != k) k = root[k] = root[root[k]];
    return k;
  };
  for (const Triangle& t : triangles) {
    root[find(t[1])] = find(t[0]);
    root[find(t[2])] = find(t[0]);
  }
  std::map<std::uint32_t, std::vector<Triangle>> pieces;
  for (const Triangle& t : triangles) pieces[find(t[0])].push_back(t);
  std::vector<std::vector<Triangle>> result;
  for (auto& [key, piece] : pieces) result.push_back(std::move(piece));
  return result;
}

double footprintShare(const Grid<double>& relief) {
  const auto covered =
      std::count_if(relief.cells().begin(), relief.cells().end(), [](double z) { return z >= 0; });
  const double cells = static_cast<double>(relief.cells().size());
  return static_cast<double>(covered) / cells * 4.0 / pi;
}

double leastOuterRadius(const Grid<double>& relief) {
  const double half = 0.5 * relief.columns();
  double least = 1;
  for (int k = 0; k < 720; ++k) {
    const double a = pi * k / 360;
    double r = half - 1;
    while (r > 0 &&
           relief.at(static_cast<int>(half + r * std::cos(a)), static_cast<int>(half - r * std::sin(a))) < 0)
      r -= 0.25;
    least = std::min(least, r / half);
  }
  return least;
}

}  // namespace

TEST_CASE("every shape is exact in size, whatever the hand did") {
  for (const ShapeFacts& facts : allShapes())
    for (const double variation : {0.0, 1.0, 5.0})
      for (const std::uint64_t copy : {1ULL, 2ULL, 3ULL}) {
        CAPTURE(facts.name);
        CAPTURE(variation);
        ShapeSpec spec = usual(facts);
        spec.variation = variation;
        spec.copy_hash = copy;
        const Mesh mesh = makeShape(spec);
        const Extent extent = extentOf(mesh);
        CHECK(extent.farthest == doctest::Approx(radius).epsilon(1e-3));
        CHECK(extent.high == doctest::Approx(spec.depth_mm).epsilon(1e-5));
        CHECK(extent.low == 0.0);
        if (facts.has_width) {
          CHECK(extent.right == doctest::Approx(0.5 * spec.width_mm).epsilon(1e-5));
          CHECK(extent.left == doctest::Approx(-0.5 * spec.width_mm).epsilon(1e-5));
        }
        CHECK(mesh.triangles.size() >= 100);
        CHECK(mesh.triangles.size() <= 600);
        CHECK(mesh.tint.size() == mesh.vertices.size());
      }
}

TEST_CASE("sizes hold for any size, count of petals and layers") {
  std::mt19937 random(11);
  for (int k = 0; k < 600; ++k) {
    const ShapeFacts& facts = allShapes()[static_cast<std::size_t>(k) % allShapes().size()];
    ShapeSpec spec = usual(facts);
    std::uniform_real_distribution<double> unit(0, 1);
    spec.diameter_mm = std::pow(10.0, 1 + 2.5 * unit(random));
    spec.width_mm = spec.diameter_mm * (0.1 + 0.6 * unit(random));
    spec.depth_mm = spec.diameter_mm * (0.05 + 0.6 * unit(random));
    spec.petals = 1 + static_cast<int>(random() % 60);
    spec.layers = 1 + static_cast<int>(random() % 8);
    spec.variation = 2 * unit(random);
    spec.copy_hash = random();
    CAPTURE(k);
    CAPTURE(facts.name);
    CAPTURE(spec.petals);
    CAPTURE(spec.layers);
    const Mesh mesh = makeShape(spec);
    const Extent extent = extentOf(mesh);
    if (facts.has_width) {
      CHECK(extent.top == doctest::Approx(0.5 * spec.diameter_mm).epsilon(1e-5));
      CHECK(extent.bottom == doctest::Approx(-0.5 * spec.diameter_mm).epsilon(1e-5));
      CHECK(extent.right - extent.left == doctest::Approx(spec.width_mm).epsilon(1e-5));
    } else {
      CHECK(extent.farthest == doctest::Approx(0.5 * spec.diameter_mm).epsilon(1e-5));
    }
    CHECK(extent.high == doctest::Approx(spec.depth_mm).epsilon(1e-5));
    CHECK(extent.low == 0.0);
    for (const Triangle& t : mesh.triangles)
      for (const std::uint32_t corner : t) REQUIRE(corner < mesh.vertices.size());
  }
}

TEST_CASE(
    "100 to 600 triangles, exact in size, for every count of petals and layers that a plan may ask for") {
  for (const ShapeFacts& facts : allShapes())
    for (int petals = std::min(1, facts.max_petals); petals <= facts.max_petals; ++petals)
      for (int layers = std::min(1, facts.max_layers); layers <= facts.max_layers; ++layers) {
        CAPTURE(facts.name);
        CAPTURE(petals);
        CAPTURE(layers);
        ShapeSpec spec = usual(facts);
        spec.petals = petals;
        spec.layers = layers;
        const Mesh mesh = makeShape(spec);
        CHECK(mesh.triangles.size() >= 100);
        CHECK(mesh.triangles.size() <= 600);
        const Extent extent = extentOf(mesh);
        CHECK(extent.high == doctest::Approx(spec.depth_mm).epsilon(1e-5));
        CHECK(extent.low == 0.0);
        if (facts.has_width)
          CHECK(extent.top - extent.bottom == doctest::Approx(2 * radius).epsilon(1e-5));
        else
          CHECK(extent.farthest == doctest::Approx(radius).epsilon(1e-5));
      }
}

TEST_CASE("the outer ring has the petals that the plan says, however many rings there are") {
  // Without variation all its tips are equally far out, and no other ring's are.
  for (const Shape shape : {Shape::dahlia, Shape::petalBloom, Shape::daisy})
    for (const int petals : {9, 16, 24}) {
      ShapeSpec spec = usual(factsOf(shape));
      CAPTURE(factsOf(shape).name);
      CAPTURE(petals);
      spec.petals = petals;
      spec.layers = 8;
      const Mesh mesh = makeShape(spec);
      int tips = 0;
      for (const glm::vec3& p : mesh.vertices) tips += std::hypot(p.x, p.y) > 0.999 * radius ? 1 : 0;
      CHECK(tips == petals);
    }
}

TEST_CASE("petals are whole: no crack and no hole within a piece of paper") {
  for (const ShapeFacts& facts : allShapes()) {
    CAPTURE(facts.name);
    ShapeSpec spec = usual(facts);
    spec.variation = 1;
    const Mesh mesh = makeShape(spec);
    const std::vector<Triangle> welded = weldedTriangles(mesh);
    for (const auto& piece : piecesOfPaper(welded, mesh.vertices.size())) {
      // Every inner edge joins two triangles, the outer ones form closed ways around; a sheet without a
      // hole has corners - edges + faces = 1 (Euler).
      std::map<std::pair<std::uint32_t, std::uint32_t>, int> edges;
      std::set<std::uint32_t> corners;
      for (const Triangle& t : piece)
        for (std::size_t k = 0; k < 3; ++k) {
          ++edges[std::minmax(t[k], t[(k + 1) % 3])];
          corners.insert(t[k]);
        }
      for (const auto& [edge, uses] : edges) CHECK(uses <= 2);
      const int euler =
          static_cast<int>(corners.size()) - static_cast<int>(edges.size()) + static_cast<int>(piece.size());
      const bool pleats = facts.shape == Shape::rosette && piece.size() > 100;  // open under the button
      CHECK(euler == (pleats ? 0 : 1));
    }
  }
}

TEST_CASE("faces look up or outwards") {
  for (const ShapeFacts& facts : allShapes()) {
    CAPTURE(facts.name);
    const Mesh mesh = makeShape(usual(facts));
    double up = 0;
    double all = 0;
    for (const Triangle& t : mesh.triangles) {
      const glm::dvec3 a = mesh.vertices[t[0]];
      const glm::dvec3 n =
          glm::cross(glm::dvec3(mesh.vertices[t[1]]) - a, glm::dvec3(mesh.vertices[t[2]]) - a);
      up += n.z;
      all += std::abs(n.z);
    }
    if (facts.shape != Shape::coneDahlia && facts.shape != Shape::pompom) CHECK(up > 0.9 * all);
  }
}

TEST_CASE("no look from the front meets the board in the middle of a bloom") {
  for (const ShapeFacts& facts : allShapes()) {
    if (facts.has_width) continue;
    CAPTURE(facts.name);
    for (unsigned seed = 1; seed <= 3; ++seed) {
      CAPTURE(seed);
      std::mt19937 random(seed);
      std::uniform_real_distribution<double> unit(0, 1);
      ShapeSpec spec = usual(facts);
      spec.variation = 1;
      spec.copy_hash = seed;
      const Mesh mesh = makeShape(spec);
      for (int k = 0; k < 400; ++k) {
        const double a = 2 * pi * unit(random);
        const double r =
            0.26 * (facts.shape == Shape::rosette ? 0.5 : 1.0) * radius * std::sqrt(unit(random));
        const double off = radians(88.0 * std::sqrt(unit(random)));
        const double b = 2 * pi * unit(random);
        const glm::dvec3 on_board{r * std::cos(a), r * std::sin(a), 0};
        const glm::dvec3 back{std::sin(off) * std::cos(b), std::sin(off) * std::sin(b), std::cos(off)};
        CHECK(firstHit(mesh, on_board + 1e5 * back, -back).has_value());
      }
    }
  }
}

TEST_CASE("the board shows between the petals, more of it where there are deep notches") {
  // Share of the disc of the plan's diameter that is covered head-on, and how far in the notches reach
  // (the least outer radius of any direction, as a share of the radius).
  struct Expected {
    double least_share;
    double most_share;
    double least_notch;
    double most_notch;
  };
  const std::map<Shape, Expected> expected{
      {Shape::dahlia, {0.82, 0.90, 0.78, 0.90}},     {Shape::coneDahlia, {0.80, 0.89, 0.70, 0.88}},
      {Shape::petalBloom, {0.80, 0.91, 0.66, 0.82}}, {Shape::peony, {0.86, 0.94, 0.80, 0.95}},
      {Shape::rose, {0.93, 0.985, 0.85, 0.99}},      {Shape::bud, {0.84, 0.97, 0.78, 0.97}},
      {Shape::rosette, {0.92, 0.98, 0.94, 0.98}},    {Shape::daisy, {0.62, 0.74, 0.40, 0.62}},
      {Shape::pompom, {0.80, 0.93, 0.75, 0.95}},     {Shape::leaf, {0.30, 0.42, 0, 1}},
      {Shape::leafSpray, {0.15, 0.28, 0, 1}},        {Shape::fern, {0.10, 0.20, 0, 1}},
  };
  for (const ShapeFacts& facts : allShapes()) {
    CAPTURE(facts.name);
    const Grid<double> relief = reliefOf(makeShape(usual(facts)), radius, 400);
    CHECK(piecesOf(relief) == 1);
    const Expected& bounds = expected.at(facts.shape);
    const double share = footprintShare(relief);
    CHECK(share > bounds.least_share);
    CHECK(share < bounds.most_share);
    if (facts.has_width) continue;
    const double notch = leastOuterRadius(relief);
    CHECK(notch > bounds.least_notch);
    CHECK(notch < bounds.most_notch);
  }
}

TEST_CASE("no two shapes look alike") {
  std::vector<Grid<double>> reliefs;
  for (const ShapeFacts& facts : allShapes())
    reliefs.push_back(reliefOf(makeShape(usual(facts)), radius, 100));
  for (std::size_t a = 0; a < reliefs.size(); ++a)
    for (std::size_t b = 0; b < a; ++b) {
      CAPTURE(allShapes()[a].name);
      CAPTURE(allShapes()[b].name);
      double apart = 0;  // mean difference of the heights where either is, as a share of the diameter
      int places = 0;
      for (std::size_t k = 0; k < reliefs[a].cells().size(); ++k) {
        const double p = std::max(reliefs[a].cells()[k], 0.0);
        const double q = std::max(reliefs[b].cells()[k], 0.0);
        if (p == 0 && q == 0) continue;
        apart += std::abs(p - q) / (2 * radius);
        ++places;
      }
      CHECK(apart / places > 0.02);
    }
}
