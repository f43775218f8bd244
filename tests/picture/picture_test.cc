#include "engine/picture/picture.h"

#include "engine/base/colour.h"
#include "engine/light/internal/light_rig.h"
#include "engine/light/shadow_maps.h"
#include "engine/light/surfaces.h"
#include "engine/picture/internal/room.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof {
namespace {

constexpr Colour board_colour{200, 170, 120};
constexpr Colour behind_colour{60, 40, 90};

scene::PanelGrid panelsOf(int columns, int rows, double seam_mm) {
  scene::PanelGrid panels;
  panels.columns = columns;
  panels.rows = rows;
  panels.panel_width_mm = 600;
  panels.panel_height_mm = 400;
  panels.seam_mm = seam_mm;
  panels.thickness_mm = 5;
  panels.has_panel = Grid<std::uint8_t>(columns, rows, 1);
  return panels;
}

scene::Scene bareWall(int columns = 1, int rows = 1, double seam_mm = 0) {
  scene::Scene scene;
  scene.panels = panelsOf(columns, rows, seam_mm);
  scene.colours = {board_colour, board_colour, behind_colour, {120, 120, 120}};
  return scene;
}

// A square of paper parallel to the board.
void hangSquare(scene::Scene& scene, glm::dvec3 middle, float half_mm, Colour colour) {
  scene::Mesh square;
  square.vertices = {
      {-half_mm, -half_mm, 0}, {half_mm, -half_mm, 0}, {half_mm, half_mm, 0}, {-half_mm, half_mm, 0}};
  square.triangles = {{0, 1, 2}, {0, 2, 3}};
  scene::BloomInstance bloom;
  bloom.mesh = static_cast<std::uint32_t>(scene.meshes.size());
  bloom.wallFromMesh[3] = glm::vec3(middle);
  bloom.colour = colour;
  scene.meshes.push_back(square);
  scene.blooms.push_back(bloom);
}

// Looks straight at a place of the board from 2 m; the frame is square and `across_mm` wide there.
camera::Camera facing(glm::dvec2 place, double across_mm) {
  camera::Camera camera;
  camera.position.mm = {place.x, place.y, 2000};
  camera.width_px = 160;
  camera.height_px = 160;
  camera.focal_px = 160 * 2000 / across_mm;
  camera.focal_mm = 50;
  return camera;
}

Image pictureOf(const scene::Scene& scene, const camera::Camera& camera,
                const std::vector<plan::Person>& people = {}, int threads = 2) {
  const camera::WallFrame wall{Units::millimetre, scene.panels.width_mm(), scene.panels.height_mm(),
                               scene.panels.above_floor_mm};
  return picture::renderPicture(scene, camera, people, wall, Pool(threads), {160, 2, true});
}

Colour pixel(const Image& image, int x, int y) {
  const std::size_t at = 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                              static_cast<std::size_t>(x));
  return {image.rgb[at], image.rgb[at + 1], image.rgb[at + 2]};
}

float brightness(Colour colour) {
  return glm::dot(linearFromSrgb(colour), glm::vec3(0.2126F, 0.7152F, 0.0722F));
}

// The largest relative difference, by channel, between a colour and the nearest multiple of another.
float hueDifference(Colour a, Colour b) {
  const glm::vec3 ratio = linearFromSrgb(a) / linearFromSrgb(b);
  const float mean = (ratio.x + ratio.y + ratio.z) / 3;
  const glm::vec3 off = glm::abs(ratio - mean) / mean;
  return std::max({off.x, off.y, off.z});
}

TEST_CASE("the light reflected by a flat board in the open is exactly white") {
  glm::vec3 sum(0.0F);
  for (const light::Lamp& lamp : light::frontLight()) {
    CHECK(glm::length(lamp.towards) == doctest::Approx(1));
    sum += lamp.power * light::paperResponse(lamp.towards.z).reflected;
  }
  for (int k = 0; k < 3; ++k) CHECK(sum[k] == doctest::Approx(1).epsilon(1e-5));
}

TEST_CASE("the light comes mostly from the upper left") {
  glm::vec3 mean(0.0F);
  for (const light::Lamp& lamp : light::frontLight()) mean += lamp.towards * lamp.power.y;
  CHECK(mean.x < 0);
  CHECK(mean.y > 0);
  CHECK(mean.z > std::abs(mean.x));
}

TEST_CASE("a flat panel that faces the light has one colour, the board's own") {
  const Image image = pictureOf(bareWall(), facing({300, 200}, 300));
  const Colour first = pixel(image, 0, 0);
  CHECK(hueDifference(first, board_colour) < 0.02F);
  CHECK(brightness(first) == doctest::Approx(brightness(board_colour)).epsilon(0.02));
  bool same = true;
  for (int y = 0; y < 160; ++y) {
    for (int x = 0; x < 160; ++x) same = same && pixel(image, x, y) == first;
  }
  CHECK(same);
}

TEST_CASE("an open seam is darker than the board beside it, a wider one less so") {
  for (const double seam_mm : {2.0, 12.0}) {
    CAPTURE(seam_mm);
    scene::Scene scene = bareWall(2, 1, seam_mm);
    scene.colours.behind = board_colour;
    const Image image = pictureOf(scene, facing({600 + seam_mm / 2, 200}, 120));
    const float slit = brightness(pixel(image, 80, 80));
    const float board = brightness(pixel(image, 20, 80));
    CHECK(slit < 0.75F * board);
    CHECK(slit == doctest::Approx(picture::lightInSlit(seam_mm, 5) * board).epsilon(0.05));
  }
}

TEST_CASE("an empty cell shows what stands behind") {
  scene::Scene scene = bareWall(2, 1, 0);
  scene.panels.has_panel.at(1, 0) = 0;
  const Image image = pictureOf(scene, facing({900, 200}, 200));
  CHECK(hueDifference(pixel(image, 80, 80), behind_colour) < 0.05F);
}

TEST_CASE("seen from the side, the board's edge has its own colour") {
  scene::Scene scene = bareWall();
  scene.panels.thickness_mm = 60;
  scene.colours.board_edge = {40, 90, 200};
  camera::Camera camera = facing({600, 200}, 400);
  // From 45 degrees to the right: the lens looks along (-1, 0, -1) at the corner.
  camera.position.mm = {600 + 1000, 200, 1000};
  const double s = std::sqrt(0.5);
  camera.cameraFromWall =
      glm::transpose(glm::dmat3(glm::dvec3(s, 0, -s), glm::dvec3(0, 1, 0), glm::dvec3(s, 0, s)));
  const Image image = pictureOf(scene, camera);
  // The edge's middle, 30 mm behind the corner, stands 30 * s to the right of the picture's middle, at
  // 1000 / s + 30 * s from the eye.
  const double right_px = 30 * s / (1000 / s + 30 * s) * camera.focal_px;
  const Colour edge = pixel(image, 80 + static_cast<int>(std::lround(right_px)), 80);
  CHECK(hueDifference(edge, scene.colours.board_edge) < 0.2F);
}

TEST_CASE("a bloom throws its shadow to the lower right") {
  scene::Scene scene = bareWall();
  hangSquare(scene, {300, 200, 40}, 50, {200, 40, 40});
  const Image image = pictureOf(scene, facing({300, 200}, 300));
  const float open = brightness(pixel(image, 3, 3));
  const auto at = [&](double x_mm, double y_mm) {
    return brightness(
        pixel(image, 80 + static_cast<int>(x_mm * 160 / 300), 80 - static_cast<int>(y_mm * 160 / 300)));
  };
  CHECK(at(65, -65) < 0.8F * open);
  CHECK(at(-65, 65) > at(65, -65) + 0.1F * open);
  CHECK(hueDifference(pixel(image, 80, 80), {200, 40, 40}) < 0.8F);
}

TEST_CASE("shadow maps in closed form: under a plate no lamp reaches the board, far from it all do") {
  scene::Scene scene = bareWall();
  hangSquare(scene, {300, 200, 30}, 100, {200, 40, 40});
  const light::Surfaces surfaces(scene);
  visibility::Rasteriser rasteriser(testing::oneThread());
  const std::vector<light::Lamp> lamps = light::frontLight();
  const light::ShadowMaps maps(lamps, surfaces.blooms(), {{0, 0, 0}, {600, 400, 40}}, rasteriser);
  for (std::size_t lamp = 0; lamp < lamps.size(); ++lamp) {
    CAPTURE(lamp);
    if (lamps[lamp].towards.z > 0.5F) CHECK(maps.reaching(lamp, {300, 200, 0}, {0, 0, 1}) == 0.0F);
    CHECK(maps.reaching(lamp, {300, 200, 30}, {0, 0, 1}) == 1.0F);
    CHECK(maps.reaching(lamp, {20, 20, 0}, {0, 0, 1}) == 1.0F);
  }
}

TEST_CASE("a ray finds a triangle's place, normal and colour") {
  scene::Scene scene = bareWall();
  hangSquare(scene, {300, 200, 40}, 50, {200, 40, 40});
  scene.meshes[0].tint = {1, 1, 1, 1};
  const light::Surfaces surfaces(scene);
  const light::SurfacePoint seen = surfaces.at(1, {{300, 200, 1000}, {0.01F, -0.02F, -1}});
  CHECK(seen.point.x == doctest::Approx(309.6));
  CHECK(seen.point.y == doctest::Approx(180.8));
  CHECK(seen.point.z == doctest::Approx(40));
  CHECK(seen.normal.z == doctest::Approx(1));
  CHECK(seen.paper);
  CHECK(seen.object == 0);
  // From behind, the normal turns to the viewer.
  CHECK(surfaces.at(2, {{300, 200, -100}, {0, 0, 1}}).normal.z == doctest::Approx(-1));
  // The rim is lighter than the foot.
  scene.meshes[0].tint = {0, 0, 0, 0};
  CHECK(surfaces.at(1, {{300, 200, 1000}, {0, 0, -1}}).colour.x < seen.colour.x);
}

TEST_CASE("people are see-through grey") {
  scene::Scene scene = bareWall(2, 6, 0);
  const camera::Camera camera = facing({600, 1000}, 1500);
  const plan::Person person{{1700}, {0}, {300}};
  const Image with = pictureOf(scene, camera, {person});
  const Image without = pictureOf(scene, camera);
  const glm::vec3 chest = linearFromSrgb(pixel(with, 80, 60));
  const glm::vec3 wall = linearFromSrgb(pixel(without, 80, 60));
  // Half of the wall's light still comes through: the board's hue stays, weaker.
  CHECK((chest.x - chest.z) > 0.3F * (wall.x - wall.z));
  CHECK((chest.x - chest.z) < 0.7F * (wall.x - wall.z));
  CHECK(pixel(with, 5, 60) == pixel(without, 5, 60));
}

TEST_CASE("beyond the outer edge lies the room, its floor below a line") {
  scene::Scene scene = bareWall();
  scene.panels.above_floor_mm = 100;
  const Image image = pictureOf(scene, facing({300, 200}, 2400));
  const Colour above = pixel(image, 10, 20);
  const Colour floor = pixel(image, 10, 155);
  CHECK(hueDifference(above, scene.colours.room) < 0.03F);
  CHECK(hueDifference(floor, scene.colours.room) < 0.03F);
  CHECK(brightness(floor) < brightness(above));
}

TEST_CASE("the picture is the same for 1, 2 and 7 threads") {
  scene::Scene scene = bareWall(2, 2, 2);
  hangSquare(scene, {590, 400, 40}, 80, {200, 40, 40});
  hangSquare(scene, {650, 420, 20}, 60, {40, 140, 40});
  const plan::Person person{{900}, {100}, {300}};
  const camera::Camera camera = facing({600, 400}, 700);
  const Image one = pictureOf(scene, camera, {person}, 1);
  CHECK(pictureOf(scene, camera, {person}, 2).rgb == one.rgb);
  CHECK(pictureOf(scene, camera, {person}, 7).rgb == one.rgb);
}

}  // namespace
}  // namespace petalproof
