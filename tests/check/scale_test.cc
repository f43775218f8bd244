#include "tests/check/simple_walls.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <ctime>
#include <limits>

using namespace petalproof;
using namespace petalproof::scene;
using namespace petalproof::check;

namespace {

constexpr int cells = 100;  // across and down
constexpr double cell_mm = 20;

void addQuad(Mesh& mesh, double x0, double y0, double x1, double y1) {
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  for (const auto& [x, y] : {std::pair(x0, y0), std::pair(x1, y0), std::pair(x1, y1), std::pair(x0, y1)})
    mesh.vertices.emplace_back(x, y, 1.0);
  mesh.triangles.push_back({first, first + 1, first + 2});
  mesh.triangles.push_back({first, first + 2, first + 3});
}

// A sheet of paper in front of the board, of equal cells, each four strips around a square. The squares of
// `open` cells are holes.
Mesh sheetWithHoles(int open) {
  Mesh sheet;
  for (int k = 0; k < cells * cells; ++k) {
    const double x = k % cells * cell_mm;
    const double y = k / cells * cell_mm;
    const double low = 7;
    const double high = 13;
    addQuad(sheet, x, y, x + cell_mm, y + low);
    addQuad(sheet, x, y + high, x + cell_mm, y + cell_mm);
    addQuad(sheet, x, y + low, x + low, y + high);
    addQuad(sheet, x + high, y + low, x + cell_mm, y + high);
    const bool is_open = k % (cells * cells / open) == cells * cells / open / 2;
    if (!is_open) addQuad(sheet, x + low, y + low, x + high, y + high);
  }
  return sheet;
}

// Processor time of one thread, the fastest of several runs.
double secondsWith(int holes) {
  SimpleWall wall = simpleWall(1, 1, cells * cell_mm, cells * cell_mm, 0);
  wall.scene.meshes.push_back(sheetWithHoles(holes));
  wall.scene.blooms.emplace_back();
  wall.loaded.plan.shots = {facingShot(wall, "front", 6000, 70, 24)};
  double fastest = std::numeric_limits<double>::infinity();
  for (int run = 0; run < 3; ++run) {
    const std::clock_t start = std::clock();
    const Check check = checked(wall, {}, testing::oneThread());
    fastest = std::min(fastest, static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
    REQUIRE(check.shots[0].found.gaps.size() == static_cast<std::size_t>(holes));
  }
  return fastest;
}

}  // namespace

TEST_CASE("24 megapixels with ten thousand gaps take at most twice as long as with ten") {
  const double ten = secondsWith(10);
  CHECK(ten > 0);
#if !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
  const double ten_thousand = secondsWith(10000);
  CAPTURE(ten);
  CAPTURE(ten_thousand);
  CHECK(ten_thousand < 2 * ten);
#endif
}
