// Pictures that OpenGL draws: whole, of parts, of what changed; never an error, never anything left behind.

#include "engine/camera/projection.h"
#include "tests/gl/gl_fixture.h"
#include "viewer/gl/id_picture.h"
#include "viewer/gl/picture.h"
#include "viewer/gl/wall_solids.h"

#include <doctest/doctest.h>

#include <cstdlib>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::gaps;
using namespace petalproof::testing;
using gl::LineStyle;
using gl::Look;
using gl::View;
using gl::WallMark;
using gl::WallRenderer;

namespace {

Scene bareWall() {
  Scene scene;
  scene.panels = {2, 1, 500, 400, 0, 5, 0, false, Grid<std::uint8_t>(2, 1, 1)};
  scene.colours = {{255, 255, 255}, {255, 255, 255}, {0, 0, 0}, {128, 128, 128}};
  return scene;
}

View wholeOf(const PanelGrid& panels, int width_px) {
  const double height = width_px * panels.height_mm() / panels.width_mm();
  return gl::headOnView({{0, 0}, {panels.width_mm(), panels.height_mm()}}, width_px,
                        static_cast<int>(height));
}

// How many of the pixels in a row of the picture are darker than `limit`.
int darkIn(const Image& image, int y, double limit) {
  int dark = 0;
  for (int x = 0; x < image.width_px; ++x) dark += brightness(image, x, y) < limit ? 1 : 0;
  return dark;
}

}  // namespace

TEST_CASE("a picture made of tiles is the picture in one go") {
  const Gl opengl;
  const DemoWall demo = demoWall();
  WallRenderer wall;
  wall.setScene(demo.scene);
  const View view = wholeOf(demo.scene.panels, 1500);
  gl::Canvas canvas;
  gl::drawOnto(canvas, wall, view, {});
  const auto tiled = gl::drawPicture(wall, view, {});
  // Clip space is rounded anew in each tile: some edges move by a sample.
  const ImageDifference difference = differenceOf(tiled, canvas.image(), 12);
  CHECK(difference.share < 0.004);
}

TEST_CASE("a picture in motion is the same wall, enlarged") {
  const Gl opengl;
  const DemoWall demo = demoWall();
  WallRenderer wall;
  wall.setScene(demo.scene);
  const View view = wholeOf(demo.scene.panels, 1200);
  gl::Canvas whole(1);
  gl::drawOnto(whole, wall, view, {});
  gl::Canvas half(1);
  gl::drawOnto(half, wall, gl::smaller(view, 0.5), {});
  gl::Canvas screen(1);
  screen.resize(view.width_px, view.height_px);
  screen.enlarge(half);
  const Image shown = screen.image();
  CHECK(shown.width_px == view.width_px);
  // Edges are softer; a picture upside down or aside differs in most of its pixels.
  CHECK(differenceOf(shown, whole.image(), 60).share < 0.2);
}

TEST_CASE("coarse blooms look as the fine ones where they are small") {
  const Gl opengl;
  const DemoWall demo = demoWall();
  WallRenderer wall;
  wall.setScene(demo.scene);
  const View view = wholeOf(demo.scene.panels, 220);
  const Image fine = gl::drawPicture(wall, view, {});
  const auto from_fine = [&](float coarse_px) {
    Look coarse;
    coarse.coarse_px = coarse_px;
    return differenceOf(gl::drawPicture(wall, view, coarse), fine, 60);
  };
  CHECK(from_fine(0.3F).largest == 0);
  CHECK(from_fine(3).largest > 0);
  CHECK(from_fine(3).share < 0.12);
}

TEST_CASE("only what is in the picture is drawn, and little of what is small there") {
  const Gl opengl;
  const gl::Program program({"copies.glsl", "depth.vert"}, {"height.frag"});
  gl::Canvas canvas;
  canvas.resize(50, 50);
  canvas.begin();
  program.use();
  const DemoWall demo = demoWall();
  gl::InstancedMeshes blooms;
  blooms.set(demo.scene.meshes, gl::copiesOf(demo.scene));
  std::size_t all = 0;
  for (const BloomInstance& bloom : demo.scene.blooms) all += demo.scene.meshes[bloom.mesh].triangles.size();
  CHECK(blooms.draw(program, 3) == all);
  const View whole = wholeOf(demo.scene.panels, 1000);
  CHECK(blooms.draw(program, 3, whole) == all);
  const std::size_t part = blooms.draw(program, 3, gl::partOf(whole, 400, 300, 100, 100));
  CHECK(part > 0);
  CHECK(part < all / 5);
  CHECK(blooms.draw(program, 3, gl::partOf(whole, -3000, 0, 100, 100)) == 0);
  CHECK(blooms.draw(program, 3, wholeOf(demo.scene.panels, 60), 3) < all / 4);
  // From behind the eye nothing is seen.
  const View away = gl::viewOf(gl::eyeCamera({{1000, 1000, 3000}}, 180, 0, 58, 300, 300), demo.scene.panels);
  CHECK(blooms.draw(program, 3, away) == 0);
}

TEST_CASE("a picture says how far it is") {
  const Gl opengl;
  WallRenderer wall;
  wall.setScene(bareWall());
  gl::TiledPicture picture(wholeOf(wall.panels(), 3000), {});  // 3 x 2 tiles
  CHECK(picture.share() == 0);
  CHECK(picture.step(wall));
  CHECK(picture.share() == doctest::Approx(1.0 / 6));
  int steps = 1;
  while (picture.step(wall)) ++steps;
  CHECK(steps == 5);
  CHECK(picture.share() == 1);
  CHECK(!picture.step(wall));
  const Image image = picture.take();
  CHECK(image.width_px == 3000);
  CHECK(image.height_px == 1200);
}

TEST_CASE("a bare board in the open is about its own colour, and a bloom darkens the board around it") {
  const Gl opengl;
  WallRenderer wall;
  Scene scene = bareWall();
  scene.colours.board = {200, 180, 150};
  wall.setScene(scene);
  const View view = wholeOf(scene.panels, 500);
  const auto open = gl::drawPicture(wall, view, {});
  CHECK(brightness(open, 125, 100) == doctest::Approx((200 + 180 + 150) / 3.0).epsilon(0.06));

  Mesh disc;  // a square leaf that floats 40 mm before the board
  disc.vertices = {{-60, -60, 40}, {60, -60, 40}, {60, 60, 40}, {-60, 60, 40}};
  disc.triangles = {{0, 1, 2}, {0, 2, 3}};
  scene.meshes = {disc};
  BloomInstance bloom;
  bloom.wallFromMesh[3] = {500, 200, 0};
  bloom.colour = {40, 200, 40};
  scene.blooms = {bloom};
  wall.setScene(scene);
  const auto hung = gl::drawPicture(wall, view, {});
  const auto at = [&](int x_mm, int y_mm) { return brightness(hung, x_mm / 2, (400 - y_mm) / 2); };
  CHECK(at(500, 200) < 130);
  // The key light comes from the upper left: its shadow lies to the lower right.
  const double open_board = at(100, 100);
  CHECK(at(575, 130) < 0.75 * open_board);
  CHECK(at(425, 270) > 0.8 * open_board);
}

TEST_CASE("an edit of a few blooms sends only those") {
  const Gl opengl;
  DemoWall demo = demoWall();
  WallRenderer wall;
  const gl::Sent first = wall.setScene(demo.scene);
  CHECK(first.meshes == demo.scene.meshes.size());
  CHECK(first.copies == demo.scene.blooms.size());
  CHECK(wall.setScene(demo.scene).copies == 0);
  for (const std::size_t moved : {3U, 90U, 200U}) demo.scene.blooms[moved].wallFromMesh[3].x += 10;
  demo.scene.blooms[5].colour = {1, 2, 3};
  const gl::Sent again = wall.setScene(demo.scene);
  CHECK(again.meshes == 0);
  CHECK(again.copies == 4);
  // What was sent piece by piece shows the same as a wall sent whole.
  WallRenderer fresh;
  fresh.setScene(demo.scene);
  const View view = wholeOf(demo.scene.panels, 700);
  CHECK(differenceOf(gl::drawPicture(wall, view, {}), gl::drawPicture(fresh, view, {}), 0).largest == 0);
}

TEST_CASE("marks are told apart by their lines: whole, dashed, dotted") {
  const Gl opengl;
  WallRenderer wall;
  wall.setScene(bareWall());
  const View view = wholeOf(wall.panels(), 1000);
  Look look;
  look.marks = true;
  look.ink.halo = {255, 255, 255};
  std::vector<int> dark;
  for (const LineStyle style : {LineStyle::solid, LineStyle::dashed, LineStyle::dotted}) {
    const WallMark mark{{{100, 200}, {900, 200}}, style};
    wall.setMarks({&mark, 1});
    dark.push_back(darkIn(gl::drawPicture(wall, view, look), 200, 120));
  }
  CHECK(dark[0] == doctest::Approx(800).epsilon(0.01));
  CHECK(dark[1] == doctest::Approx(0.62 * 800).epsilon(0.05));
  CHECK(dark[2] == doctest::Approx(0.45 * 800).epsilon(0.08));
  look.marks = false;
  CHECK(darkIn(gl::drawPicture(wall, view, look), 200, 120) == 0);
}

TEST_CASE("the heat view is darker where more shots see the wall bare") {
  const Gl opengl;
  WallRenderer wall;
  const Scene scene = bareWall();
  wall.setScene(scene);
  BareMap map = emptyBareMap(scene.panels);
  for (int row = 0; row < map.rows; ++row)
    for (int column = 0; column < map.columns; ++column)
      map.shots[static_cast<std::size_t>(row * map.columns + column)] =
          static_cast<std::uint8_t>(row < 200 ? column / 250 : 0);
  wall.setHeat(map, 3);
  Look look;
  look.heat = true;
  const auto picture = gl::drawPicture(wall, wholeOf(scene.panels, 1000), look);
  const auto in = [&](int x) { return brightness(picture, x, 300); };
  CHECK(in(100) > in(350) + 20);
  CHECK(in(350) > in(600) + 20);
  CHECK(in(600) > in(900) + 20);
  const Colour one = gl::heatColour(1, 3);
  CHECK(in(350) == doctest::Approx((one.red + one.green + one.blue) / 3.0).epsilon(0.1));
  CHECK(brightness(picture, 900, 100) == doctest::Approx(in(100)).epsilon(0.05));
}

TEST_CASE("people stand before the wall when they are asked for") {
  const Gl opengl;
  WallRenderer wall;
  const Scene scene = bareWall();
  wall.setScene(scene);
  const Person person{{1700}, {0}, {800}};
  wall.setPeople({&person, 1}, {Units::millimetre, 1000, 400, 0});
  const Camera camera = gl::eyeCamera({{500, 900, 4000}}, 0, 0, 40, 400, 400);
  Look look;
  const auto nobody = gl::drawPicture(wall, gl::viewOf(camera, scene.panels), look);
  look.people = 1;
  const auto somebody = gl::drawPicture(wall, gl::viewOf(camera, scene.panels), look);
  const auto top = project(camera, {{500, 1690, 800}});
  REQUIRE(top);
  const int above = static_cast<int>(top->px.y) - 8;
  CHECK(brightness(somebody, 200, above) == doctest::Approx(brightness(nobody, 200, above)));
  const ImageDifference difference = differenceOf(somebody, nobody, 10);
  CHECK(difference.share > 0.02);
  CHECK(difference.share < 0.3);
}

TEST_CASE("out of focus the lens spreads an edge as far as the engine says") {
  const Gl opengl;
  WallRenderer wall;
  Scene scene = bareWall();
  scene.panels.has_panel.at(1, 0) = 0;  // right half: black behind
  wall.setScene(scene);
  Shot shot;
  shot.sensor = {"", 36, 24};
  shot.megapixels = 0.6;
  shot.lens.mm = 85;
  shot.aperture = 2;
  shot.camera_out = {3000};
  shot.camera_above_floor = shot.aim_above_floor = {200};
  shot.focus = Length{1500};
  const auto made = makeCamera(shot, {Units::millimetre, 1000, 400, 0});
  REQUIRE(made);
  const Camera& camera = *made.value;
  const gl::LensSpread spread = gl::spreadOf(camera, 3000, 3000);
  const auto picture = gl::drawPicture(wall, gl::viewOf(camera, scene.panels), {}, spread);
  const double disc_px = blurDiscMm(lensOf(camera), 3000) / camera.pixel_pitch_mm;
  CHECK(spread.largest_px == doctest::Approx(disc_px));
  const int y = picture.height_px / 2;
  const double middle = picture.width_px / 2.0;
  const auto at = [&](double from_edge) {
    return brightness(picture, static_cast<int>(middle + from_edge * disc_px), y);
  };
  CHECK(disc_px > 20);
  CHECK(at(-0.6) > 200);
  CHECK(at(0.6) < 60);
  // Between the two it rises over the whole disc.
  CHECK(at(-0.35) > at(0) + 5);
  CHECK(at(0) > at(0.35) + 5);
  CHECK(at(0.35) > at(0.6));
}

// PETALPROOF_LONG_TESTS=1: as often as somebody opens walls in a year.
TEST_CASE("walls that are opened and closed leave nothing behind") {
  const Gl opengl;
  const DemoWall demo = demoWall();
  const int before = livingObjects();
  const int rounds = std::getenv("PETALPROOF_LONG_TESTS") != nullptr ? 200 : 6;
  for (int k = 0; k < rounds; ++k) {
    WallRenderer wall;
    wall.setScene(demo.scene);
    wall.setPeople(demo.loaded.plan.shots.front().people, demo.wall);
    const View view = wholeOf(demo.scene.panels, 60);
    const gl::IdPicture ids;
    gl::Canvas canvas;
    gl::drawOnto(canvas, wall, view, {});
    CHECK(livingObjects() > before + 10);
  }
  CHECK(livingObjects() == before);
}
