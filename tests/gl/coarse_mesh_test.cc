// Meshes with fewer triangles: what stays, what goes.

#include "viewer/gl/coarse_mesh.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace petalproof;
using namespace petalproof::scene;

namespace {

// A flat sheet of n x n squares, 10 mm each, from the origin.
Mesh sheet(std::uint32_t n) {
  Mesh mesh;
  for (std::uint32_t y = 0; y <= n; ++y)
    for (std::uint32_t x = 0; x <= n; ++x) mesh.vertices.emplace_back(10 * x, 10 * y, 0);
  for (std::uint32_t y = 0; y < n; ++y)
    for (std::uint32_t x = 0; x < n; ++x) {
      const std::uint32_t a = y * (n + 1) + x;
      mesh.triangles.push_back({a, a + 1, a + n + 2});
      mesh.triangles.push_back({a, a + n + 2, a + n + 1});
    }
  return mesh;
}

}  // namespace

TEST_CASE(
    "a sheet of 8 x 8 squares in cells of 4 corners is one of 4 x 4, the farthest corner of each cell") {
  const Mesh mesh = sheet(8);
  // Corners 0 to 8 across in cells of two: 0 and 1, 2 and 3, ..., 8: five across.
  const std::vector<Triangle> coarse = gl::coarseTriangles(mesh, 20);
  CHECK(coarse.size() == 32);
  for (const Triangle& t : coarse)
    for (const std::uint32_t corner : t) {
      const auto column = corner % 9;
      CHECK((column == 8 || column % 2 == 1));
    }
}

TEST_CASE("what saves less than half, or isn't asked for, leaves the mesh as it is") {
  const Mesh mesh = sheet(8);
  CHECK(gl::coarseTriangles(mesh, 0) == mesh.triangles);
  CHECK(gl::coarseTriangles(mesh, 9) == mesh.triangles);
  CHECK(gl::coarseTriangles(mesh, -1) == mesh.triangles);
}

TEST_CASE("triangles that fall together are there once, and a mesh in one cell is nothing") {
  Mesh mesh = sheet(4);
  const std::vector<Triangle> once = mesh.triangles;
  mesh.triangles.insert(mesh.triangles.end(), once.begin(), once.end());
  CHECK(gl::coarseTriangles(mesh, 5).size() == once.size());
  CHECK(gl::coarseTriangles(mesh, 1000).empty());
}
