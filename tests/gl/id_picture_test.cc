// OpenGL's picture of ids against the engine's visibility buffer: the same but at edges.

#include "viewer/gl/id_picture.h"
#include "tests/gl/gl_fixture.h"
#include "tests/support/pool.h"

#include "engine/camera/projection.h"
#include "engine/visibility/visibility_buffer.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::visibility;
using namespace petalproof::testing;

namespace {

struct Agreement {
  int different = 0;
  int away_from_edges = 0;  // of those: the engine has one id in the whole 3 x 3 pixels
};

bool atEdge(const VisibilityBuffer& buffer, int x, int y) {
  for (int j = std::max(0, y - 1); j <= std::min(buffer.height_px - 1, y + 1); ++j)
    for (int i = std::max(0, x - 1); i <= std::min(buffer.width_px - 1, x + 1); ++i)
      if (!(buffer.id(i, j) == buffer.id(x, y))) return true;
  return false;
}

Agreement compared(const VisibilityBuffer& buffer, const std::vector<PixelId>& ids) {
  REQUIRE(ids.size() == buffer.ids.size());
  Agreement found;
  for (int y = 0; y < buffer.height_px; ++y)
    for (int x = 0; x < buffer.width_px; ++x) {
      if (ids[buffer.offset(x, y)] == buffer.id(x, y)) continue;
      ++found.different;
      found.away_from_edges += atEdge(buffer, x, y) ? 0 : 1;
    }
  return found;
}

}  // namespace

TEST_CASE("OpenGL sees in each shot of the demo what the engine sees, but at edges") {
  const Gl opengl;
  const DemoWall demo = demoWall();
  gl::WallRenderer wall;
  wall.setScene(demo.scene);
  gl::IdPicture picture;
  VisibilityRenderer engine(testing::allThreads());
  VisibilityBuffer buffer;
  for (const Shot& shot : demo.loaded.plan.shots) {
    const auto camera = makeCamera(shot, demo.wall);
    REQUIRE(camera);
    const Camera small = scaledTo(*camera.value, 900);
    engine.render(demo.scene, small, {}, demo.wall, buffer);
    picture.draw(wall, gl::viewOf(small, demo.scene.panels));
    const Agreement found = compared(buffer, picture.ids());
    INFO(shot.name);
    // Where two blooms touch or cut through each other, either may win: less than one pixel in 100,000.
    CHECK(found.away_from_edges < 1e-5 * static_cast<double>(buffer.ids.size()));
    CHECK(found.different < 0.004 * static_cast<double>(buffer.ids.size()));
  }
}

TEST_CASE("an empty cell, wide slits and places off the wall have the engine's ids") {
  const Gl opengl;
  Scene scene;
  scene.panels = {3, 2, 400, 300, 20, 5, 100, false, Grid<std::uint8_t>(3, 2, 1)};
  scene.panels.has_panel.at(1, 0) = 0;
  const WallFrame frame{Units::millimetre, scene.panels.width_mm(), scene.panels.height_mm(), 100};
  const Camera camera = gl::eyeCamera({{300, 500, 1500}}, 12, -8, 60, 700, 500);
  VisibilityRenderer engine(testing::allThreads());
  VisibilityBuffer buffer;
  engine.render(scene, camera, {}, frame, buffer);
  const PictureShares shares = sharesOf(buffer, testing::allThreads());
  CHECK(shares.seam > 0);
  CHECK(shares.behind > 0);
  CHECK(shares.off > 0);
  gl::WallRenderer wall;
  wall.setScene(scene);
  gl::IdPicture picture;
  picture.draw(wall, gl::viewOf(camera, scene.panels));
  const Agreement found = compared(buffer, picture.ids());
  CHECK(found.away_from_edges == 0);
  CHECK(found.different < 60);
}
