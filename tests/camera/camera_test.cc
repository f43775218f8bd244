#include "engine/camera/projection.h"
#include "tests/camera/example_shots.h"

#include <doctest/doctest.h>

#include <limits>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::camera;

namespace {

const ShotPlaces places = {{"plan.toml", 1, 1}, {"plan.toml", 2, 10}, {"plan.toml", 3, 7}};

void checkProblem(const Shot& shot, const Place& place, const std::string& message) {
  const Result<Camera> camera = makeCamera(shot, exampleWall(), places);
  REQUIRE_FALSE(camera);
  REQUIRE(camera.problems.size() == 1);
  CHECK(camera.problems[0].place == place);
  CHECK(camera.problems[0].message == message);
}

}  // namespace

TEST_CASE("the camera stands where the tape says, in the wall frame") {
  const Camera camera = cameraOf(shotFrom(-300, 1500, 4000, 100, 1300));
  CHECK(camera.position.mm == glm::dvec3(1200, 1300, 4000));
  const auto aim = boardPointOf(camera, {{3000, 2000}});
  REQUIRE(aim);
  CHECK(aim->mm.x == doctest::Approx(1600).epsilon(1e-12));
  CHECK(aim->mm.y == doctest::Approx(1100).epsilon(1e-12));
}

TEST_CASE("inches of a plan become millimetres") {
  Shot shot = shotFrom(10, 60, 204, 0, 54, 85);
  const WallFrame wall = {Units::inch, 96.18 * 25.4, 80.18 * 25.4, 6 * 25.4};
  const Camera camera = cameraOf(shot, wall);
  CHECK(camera.position.mm.x == doctest::Approx((48.09 + 10) * 25.4));
  CHECK(camera.position.mm.y == doctest::Approx(54 * 25.4));
  CHECK(camera.position.mm.z == doctest::Approx(204 * 25.4));
  shot.focus = Length{152};
  CHECK(cameraOf(shot, wall).focus_mm == doctest::Approx(152 * 25.4));
}

TEST_CASE("a level camera has its axes along the wall's") {
  const Camera camera = cameraOf(headOn(3000));
  CHECK(camera.cameraFromWall == glm::dmat3(1.0));
  // The point one unit to the right and one up in front of a 50 mm lens.
  const auto pixel = project(camera, {{1500 + 360, 1200 + 240, 0}});
  REQUIRE(pixel);
  CHECK(pixel->px.x == doctest::Approx(3000 + 360 * 6000 / 36.0 * 50 / 3000));
  CHECK(pixel->px.y == doctest::Approx(2000 - 240 * 6000 / 36.0 * 50 / 3000));
}

TEST_CASE("the focus is where the plan says, on the nearest eyes, or on the wall") {
  Shot shot = headOn(3000);
  CHECK(cameraOf(shot).focus_mm == doctest::Approx(3000));
  shot.people = {{Length{1700}, Length{-200}, Length{900}}, {Length{1600}, Length{300}, Length{1200}}};
  CHECK(cameraOf(shot).focus_mm == doctest::Approx(3000 - 1200 - 100));
  shot.people.push_back({Length{1700}, Length{0}, Length{3500}});  // behind the camera
  CHECK(cameraOf(shot).focus_mm == doctest::Approx(3000 - 1200 - 100));
  shot.focus = Length{2222};
  CHECK(cameraOf(shot).focus_mm == doctest::Approx(2222));
}

TEST_CASE("distances for the focus run along the lens axis") {
  // 3-4-5: the camera 3000 right of its aim and 4000 out looks along (-0.6, 0, -0.8).
  Shot shot = shotFrom(3000, 1400, 4000, 0, 1400);
  CHECK(cameraOf(shot).focus_mm == doctest::Approx(5000));
  shot.people = {{Length{1400 / 0.935}, Length{500}, Length{1000}}};  // eyes level with the lens
  CHECK(cameraOf(shot).focus_mm == doctest::Approx(0.6 * 2500 + 0.8 * 2900));
}

TEST_CASE("cameras that can't be are refused with their place") {
  checkProblem(shotFrom(0, 1400, -10, 0, 1400), places.camera,
               "the camera stands behind the board; its third number, out from the board, must be above 0");
  checkProblem(shotFrom(0, 1400, 0, 500, 1400), places.camera,
               "the camera stands on the board; its third number, out from the board, must be above 0");
  checkProblem(shotFrom(0, 1400, 0, 0, 1400), places.aim,
               "the camera stands at the very place it aims at; move one of them");
  Shot shot = headOn(3000);
  shot.camera_right = {std::numeric_limits<double>::quiet_NaN()};
  checkProblem(shot, places.camera, "the camera's place must be finite numbers");
  shot = headOn(3000);
  shot.aim_right = {std::numeric_limits<double>::infinity()};
  checkProblem(shot, places.aim, "the aim must be finite numbers");
  checkProblem(headOn(3000, 0), places.shot, "the lens must be a finite number of mm above 0");
  shot = headOn(3000);
  shot.sensor.height_mm = 0;
  checkProblem(shot, places.shot, "the sensor's sides must be finite and above 0");
  shot = headOn(3000);
  shot.megapixels = -1;
  checkProblem(shot, places.shot, "megapixels must be finite and above 0");
}

TEST_CASE("all problems of a camera are listed") {
  Shot shot = shotFrom(0, 1400, -10, 0, 1400, -50);
  shot.crop = CropShape{0, 1};
  shot.focus = Length{0};
  CHECK(makeCamera(shot, exampleWall()).problems.size() == 4);
}

TEST_CASE("the wall's outline is panels and seams") {
  Plan plan;
  plan.units = Units::centimetre;
  plan.wall.columns = 5;
  plan.wall.rows = 6;
  plan.wall.panel = {Length{50}, Length{40}};
  plan.wall.seam = Length{0.5};
  plan.wall.above_floor = Length{12};
  const WallFrame wall = wallFrameOf(plan);
  CHECK(wall.width_mm == doctest::Approx(10 * (5 * 50 + 4 * 0.5)));
  CHECK(wall.height_mm == doctest::Approx(10 * (6 * 40 + 5 * 0.5)));
  CHECK(wall.above_floor_mm == doctest::Approx(120));
  CHECK(wall.units == Units::centimetre);
}
