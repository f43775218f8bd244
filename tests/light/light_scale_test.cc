// The light of a wall takes no longer, and no more memory, than that of the largest usual wall.
#include "engine/light/light_scale.h"

#include "engine/light/internal/depth_map.h"
#include "engine/light/internal/wall_light.h"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <cstdint>

using namespace petalproof;
using namespace petalproof::scene;
using namespace petalproof::light;

namespace {

// A wall with so many square sheets of 2 m x 2 m, one over the other.
Scene sheets(std::size_t count) {
  Scene scene;
  scene.panels.columns = 1;
  scene.panels.rows = 1;
  scene.panels.panel_width_mm = 100;
  scene.panels.panel_height_mm = 100;
  scene.panels.has_panel = Grid<std::uint8_t>(1, 1);
  scene.panels.has_panel.at(0, 0) = 1;
  Mesh sheet;
  sheet.vertices = {{-1000, -1000, 0}, {1000, -1000, 0}, {1000, 1000, 0}, {-1000, 1000, 0}};
  sheet.triangles = {{0, 1, 2}, {0, 2, 3}};
  scene.meshes.push_back(sheet);
  for (std::size_t k = 0; k < count; ++k) {
    BloomInstance bloom;
    bloom.wallFromMesh[3] = {50, 50, 1};
    scene.blooms.push_back(bloom);
  }
  return scene;
}

}  // namespace

TEST_CASE("light grows coarser with the paper on a wall, as it does with the wall") {
  // 8 times 2^28 mm2 of paper are usual: 536.87 of these sheets.
  CHECK(lightScale(sheets(0)) == 1);
  CHECK(lightScale(sheets(536)) == 1);
  CHECK(lightScale(sheets(2148)) == doctest::Approx(std::sqrt(2148 / 536.8709)));
}

TEST_CASE("the drawing of a lamp's map ends soon after it is asked to") {
  struct Asked {};
  const TriangleSoup soup = bloomsOf(sheets(1000));
  const RayFrame frame({0, 0, 1});
  const RayBox box{{0, 0}, {100, 100}};
  DepthMap map;
  int looks = 0;
  map.draw(soup, frame, box, 2, [&] { ++looks; });
  CHECK(looks >= 100);
  looks = 0;
  CHECK_THROWS_AS(map.draw(soup, frame, box, 2,
                           [&] {
                             if (++looks == 3) throw Asked{};
                           }),
                  Asked);
  CHECK(looks == 3);
}
