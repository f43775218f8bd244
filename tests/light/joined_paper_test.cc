#include "engine/light/internal/joined_paper.h"

#include "engine/light/internal/depth_map.h"
#include "engine/light/internal/wall_light.h"
#include "tests/support/random_wall.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <cstdint>
#include <map>

using namespace petalproof;
using namespace petalproof::scene;
using namespace petalproof::light;

namespace {

// A sheet of so many squares of 10 mm each way, each of two triangles, its middle line raised.
Mesh foldedSheet(int squares, float raised_mm) {
  Mesh mesh;
  for (int y = 0; y <= squares; ++y)
    for (int x = 0; x <= squares; ++x)
      mesh.vertices.emplace_back(10.0F * static_cast<float>(x), 10.0F * static_cast<float>(y),
                                 2 * x == squares ? raised_mm : 0.0F);
  const auto at = [&](int x, int y) { return static_cast<std::uint32_t>(y * (squares + 1) + x); };
  for (int y = 0; y < squares; ++y)
    for (int x = 0; x < squares; ++x) {
      mesh.triangles.push_back({at(x, y), at(x + 1, y), at(x + 1, y + 1)});
      mesh.triangles.push_back({at(x, y), at(x + 1, y + 1), at(x, y + 1)});
    }
  return mesh;
}

float areaOf(const Mesh& mesh, std::uint32_t a, std::uint32_t b, std::uint32_t c) {
  return glm::length(glm::cross(mesh.vertices[b] - mesh.vertices[a], mesh.vertices[c] - mesh.vertices[a])) /
         2;
}

float areaOf(const Mesh& mesh, const JoinedPaper& paper) {
  float area = 0;
  for (const auto& [a, b, c, d] : paper.quads) area += areaOf(mesh, a, b, c) + areaOf(mesh, a, c, d);
  for (const auto& [a, b, c] : paper.alone) area += areaOf(mesh, a, b, c);
  return area;
}

}  // namespace

TEST_CASE("a flat sheet is joined to quads without a triangle left") {
  const Mesh sheet = foldedSheet(6, 0);
  const JoinedPaper paper = joinedPaper(sheet, 0.01F);
  CHECK(paper.quads.size() == 36);
  CHECK(paper.alone.empty());
  CHECK(areaOf(sheet, paper) == doctest::Approx(3600));
}

TEST_CASE("no quad is bent more than it may be") {
  Mesh pair;
  pair.vertices = {{0, 0, 0}, {10, 0, 0}, {10, 10, 0}, {0, 10, 3}};
  pair.triangles = {{0, 1, 2}, {0, 2, 3}};
  // The diagonals from (0, 0, 0) to (10, 10, 0) and from (10, 0, 0) to (0, 10, 3) pass at 1.5 mm times the
  // cosine of their common normal against z, 20 / sqrt(20^2 + 2 * 3^2).
  const double apart = 1.5 * 20 / std::sqrt(20.0 * 20 + 2 * 3 * 3);
  CHECK(joinedPaper(pair, static_cast<float>(apart * 1.001)).quads.size() == 1);
  CHECK(joinedPaper(pair, static_cast<float>(apart * 0.999)).alone.size() == 2);
}

TEST_CASE("a quad has no corner that points inwards") {
  Mesh arrow;
  arrow.vertices = {{0, 0, 0}, {10, -4, 0}, {2, 0, 0}, {10, 4, 0}};
  arrow.triangles = {{0, 1, 2}, {0, 2, 3}};
  CHECK(joinedPaper(arrow, 1).alone.size() == 2);
}

TEST_CASE("each triangle of a bloom is in one piece") {
  const Scene wall = testing::randomWall({2, 2, 3, 1.5, 11});
  for (const Mesh& mesh : wall.meshes) {
    const JoinedPaper paper = joinedPaper(mesh, 2);
    CHECK(2 * paper.quads.size() + paper.alone.size() == mesh.triangles.size());
    std::map<std::uint32_t, int> uses;
    for (const Triangle& t : mesh.triangles)
      for (const std::uint32_t v : t) ++uses[v];
    // A quad's diagonal runs between two corners that both of its triangles had.
    int dropped = 0;
    for (const Quad& quad : paper.quads)
      for (const std::uint32_t v : quad) --uses[v];
    for (const Triangle& t : paper.alone)
      for (const std::uint32_t v : t) --uses[v];
    for (const auto& [vertex, left] : uses) {
      CHECK(left >= 0);
      dropped += left;
    }
    CHECK(dropped == 2 * static_cast<int>(paper.quads.size()));
  }
}

TEST_CASE("a shadow map of quads is that of their triangles to within their bend") {
  const Scene wall = testing::randomWall({2, 2, 3, 1.5, 12});
  const RayFrame frame(glm::vec3(0.3F, -0.2F, 0.9F));
  const RayBox box{{-200, -200}, {1200, 1200}};
  const auto mapWith = [&](float bend_mm) {
    TriangleSoup soup = bloomsOf(wall);
    for (std::size_t k = 0; k < wall.meshes.size(); ++k)
      soup.papers[k] = joinedPaper(wall.meshes[k], bend_mm);
    DepthMap map;
    map.draw(soup, frame, box, 2.25F);
    return map;
  };
  const DepthMap exact = mapWith(-1);
  const DepthMap joined = mapWith(2);
  int cells = 0;
  int far_off = 0;
  for (int y = 0; y < 500; ++y)
    for (int x = 0; x < 500; ++x) {
      const int a = exact.cells()[y * exact.stride() + x];
      const int b = joined.cells()[y * joined.stride() + x];
      if (a == DepthMap::nothing && b == DepthMap::nothing) continue;
      ++cells;
      if (static_cast<float>(std::abs(a - b)) > 2 * exact.steps_per_mm()) ++far_off;
    }
  CHECK(cells > 50'000);
  // Where paper lies edge-on to the lamp a bent quad's outline may be a cell off.
  CHECK(far_off < cells / 200);
}
