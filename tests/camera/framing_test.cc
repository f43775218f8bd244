#include "engine/camera/framing.h"

#include "tests/camera/example_shots.h"

#include <doctest/doctest.h>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::camera;

namespace {

constexpr double radians_per_degree = 3.14159265358979323846 / 180;

// Full frame: the frame is this wide (high) at a distance.
double frameWidth(double distance, double lens) { return 36 * distance / lens; }
double frameHeight(double distance, double lens) { return 24 * distance / lens; }

}  // namespace

TEST_CASE("a head-on frame reaches beyond the wall by half the difference") {
  const WallFrame wall = exampleWall();                          // 3000 x 2400
  const OffWall inside = offWall(cameraOf(headOn(4000)), wall);  // 2880 x 1920
  CHECK_FALSE(inside.any());
  CHECK(inside.left_mm == 0.0);
  CHECK(inside.top_mm == 0.0);
  const OffWall off = offWall(cameraOf(headOn(6000)), wall);  // 4320 x 2880
  CHECK(off.any());
  CHECK(*off.left_mm == doctest::Approx((4320 - 3000) / 2.0));
  CHECK(*off.right_mm == doctest::Approx((4320 - 3000) / 2.0));
  CHECK(*off.top_mm == doctest::Approx((2880 - 2400) / 2.0));
  CHECK(*off.bottom_mm == doctest::Approx((2880 - 2400) / 2.0));
}

TEST_CASE("a frame aimed aside reaches beyond one edge only, below the floor too") {
  // 2880 x 1920 about a point 500 right of and 700 below the wall's middle.
  const OffWall off = offWall(cameraOf(shotFrom(500, 700, 4000, 500, 700)), exampleWall());
  CHECK(*off.left_mm == 0);
  CHECK(*off.right_mm == doctest::Approx(500 + 1440 - 1500));
  CHECK(*off.top_mm == 0);
  CHECK(*off.bottom_mm == doctest::Approx(700 + 960 - 1200));  // the floor is 200 below the wall
}

TEST_CASE("a frame seen from the side: by tangents") {
  // Level, 30 degrees to the right from the middle of the wall, 2000 out; half angle 19.8 degrees.
  const double yaw = 30 * radians_per_degree;
  const double half = std::atan(18.0 / 50);
  const Camera camera = cameraOf(shotFrom(0, 1400, 2000, 2000 * std::tan(yaw), 1400));
  const OffWall off = offWall(camera, exampleWall());
  CHECK(*off.left_mm == 0);
  CHECK(*off.right_mm == doctest::Approx(2000 * std::tan(yaw + half) - 1500));
  // The right side's corners: 12 mm up on the sensor, at the distance of the right side.
  const double depth = 2000 / std::cos(yaw + half) * std::cos(half);
  CHECK(*off.top_mm == doctest::Approx(std::max(0.0, depth * 12 / 50 - 1200)));
  CHECK(*off.bottom_mm == doctest::Approx(std::max(0.0, depth * 12 / 50 - 1200)));
}

TEST_CASE("a side that looks past the horizon reaches endlessly") {
  // Turned 80 degrees to the right, the right side looks away from the board.
  const OffWall right = offWall(
      cameraOf(shotFrom(0, 1400, 1000, 1000 * std::tan(80 * radians_per_degree), 1400, 24)), exampleWall());
  CHECK_FALSE(right.right_mm);
  CHECK_FALSE(right.top_mm);  // its right end
  CHECK_FALSE(right.bottom_mm);
  REQUIRE(right.left_mm);
  CHECK(*right.left_mm == 0);
  CHECK(right.any());
  // Tilted 70 degrees up: the lower side still meets the board.
  const OffWall up = offWall(
      cameraOf(shotFrom(0, 300, 500, 0, 300 + 500 * std::tan(70 * radians_per_degree), 24)), exampleWall());
  CHECK_FALSE(up.top_mm);
  CHECK_FALSE(up.left_mm);
  CHECK_FALSE(up.right_mm);
  REQUIRE(up.bottom_mm);
  CHECK(*up.bottom_mm == 0);
}

TEST_CASE("the remedy head-on: nearer or a longer lens, by proportion") {
  // 50 mm from 6000: 4320 x 2880 on 3000 x 2400. The width needs 3000 / 4320, the height 2400 / 2880.
  const FramingRemedy remedy = remedyFor(headOn(6000), exampleWall());
  REQUIRE(remedy.camera_out_mm);
  REQUIRE(remedy.lens_mm);
  CHECK(*remedy.camera_out_mm == doctest::Approx(6000 * 3000 / 4320.0).epsilon(1e-8));
  CHECK(*remedy.lens_mm == doctest::Approx(50 * 4320 / 3000.0).epsilon(1e-8));
  CHECK(frameWidth(*remedy.camera_out_mm, 50) <= 3000);
  CHECK(frameHeight(6000, *remedy.lens_mm) <= 2400);
}

TEST_CASE("a frame inside needs no remedy, a middle beside the wall has none") {
  const FramingRemedy none = remedyFor(headOn(4000), exampleWall());
  CHECK_FALSE(none.camera_out_mm);
  CHECK_FALSE(none.lens_mm);
  const FramingRemedy beside = remedyFor(shotFrom(0, 1400, 4000, 1600, 1400), exampleWall());
  CHECK_FALSE(beside.camera_out_mm);
  CHECK_FALSE(beside.lens_mm);
}

TEST_CASE("a longer lens is given in the terms of the shot") {
  Shot shot = headOn(6000);
  shot.sensor = {"four thirds", 17.3, 13};
  shot.lens = {50, true};
  const double frame_height = 13 * 6000 / (50 * std::hypot(17.3, 13) / 43.27);
  const double frame_width = frame_height * 17.3 / 13;
  const double factor = std::max(frame_width / 3000, frame_height / 2400);
  CHECK(*remedyFor(shot, exampleWall()).lens_mm == doctest::Approx(50 * factor).epsilon(1e-3));
}

TEST_CASE("the camera doesn't come nearer than the people") {
  Shot shot = headOn(6000);
  shot.people = {{Length{1700}, Length{0}, Length{4200}}};
  const FramingRemedy remedy = remedyFor(shot, exampleWall());
  CHECK_FALSE(remedy.camera_out_mm);
  CHECK(remedy.lens_mm);
}

TEST_CASE("a horizon in the frame: only a longer lens helps") {
  const Shot shot = shotFrom(-1400, 1400, 300, 300, 1400, 18);
  const FramingRemedy remedy = remedyFor(shot, exampleWall());
  CHECK_FALSE(remedy.camera_out_mm);
  REQUIRE(remedy.lens_mm);
  Shot longer = shot;
  longer.lens.mm = *remedy.lens_mm;
  CHECK_FALSE(offWall(cameraOf(longer), exampleWall()).any());
}

TEST_CASE("remedies hold, and no smaller change does") {
  int nearer_found = 0;
  int longer_found = 0;
  for (std::uint64_t seed = 1; seed <= 500; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const WallFrame wall = exampleWall();
    Shot shot = shotFrom(random.between(-4000, 4000), random.between(100, 3000), random.magnitude(500, 10000),
                         random.between(-1600, 1600), random.between(100, 2700), random.magnitude(14, 200));
    shot.upright = random.coin();
    const bool off = offWall(cameraOf(shot), wall).any();
    const FramingRemedy remedy = remedyFor(shot, wall);
    if (!off) {
      CHECK_FALSE(remedy.camera_out_mm);
      CHECK_FALSE(remedy.lens_mm);
    }
    if (remedy.lens_mm) {
      ++longer_found;
      Shot changed = shot;
      changed.lens.mm = *remedy.lens_mm * (1 + 1e-9);
      CHECK_FALSE(offWall(cameraOf(changed), wall).any());
      changed.lens.mm = *remedy.lens_mm * 0.9999;
      CHECK(offWall(cameraOf(changed), wall).any());
    }
    if (remedy.camera_out_mm) {
      ++nearer_found;
      const auto moved = [&](double out) {
        const double share = out / shot.camera_out.value;
        Shot changed = shot;
        changed.camera_out = {out};
        changed.camera_right = {shot.aim_right.value +
                                share * (shot.camera_right.value - shot.aim_right.value)};
        changed.camera_above_floor = {shot.aim_above_floor.value +
                                      share * (shot.camera_above_floor.value - shot.aim_above_floor.value)};
        return offWall(cameraOf(changed), wall).any();
      };
      CHECK_FALSE(moved(*remedy.camera_out_mm * (1 - 1e-9)));
      CHECK(moved(*remedy.camera_out_mm * 1.0001));
    }
  }
  CHECK(nearer_found > 100);
  CHECK(longer_found > nearer_found);
}

TEST_CASE("how many people fit before the wall's edge or the frame's") {
  const WallFrame wall = exampleWall();
  // 35 mm from 6000: the frame is 6171 wide on the wall, so the wall's edges are in the picture. At 1500
  // from the board the outline covers 3000 * (6000 - 1500) / 6000 = 2250 mm: 4 of 482.6, 5 of 381.
  Shot shot = headOn(6000, 35);
  shot.people = {{Length{1700}, Length{-300}, Length{1400}}, {Length{1700}, Length{300}, Length{1600}}};
  RoomForPeople room = roomForPeople(cameraOf(shot), shot, wall);
  CHECK(room.distance_from_board_mm == doctest::Approx(1500));
  CHECK(room.width_mm == doctest::Approx(2250));
  CHECK(room.side_by_side == 4);
  CHECK(room.staggered == 5);
  // 50 mm from 4000: the frame (2880 on the wall) is narrower than the outline; at 48 in it is
  // 36 / 50 * (4000 - 1219.2) wide.
  shot = headOn(4000);
  room = roomForPeople(cameraOf(shot), shot, wall);
  CHECK(room.distance_from_board_mm == doctest::Approx(1219.2));
  CHECK(room.width_mm == doctest::Approx(0.72 * 2780.8));
  CHECK(room.side_by_side == 4);
  CHECK(room.staggered == 5);
}

TEST_CASE("from the side the outline's far edge comes nearer to the people") {
  // Camera 2000 right of the middle, 4000 out, facing the board with a wide lens. Half way to the board
  // the outline spans from (3500 + 0) / 2 to (3500 + 3000) / 2.
  Shot shot = shotFrom(2000, 1400, 4000, 2000, 1400, 14);
  shot.people = {{Length{1700}, Length{0}, Length{2000}}};
  const RoomForPeople room = roomForPeople(cameraOf(shot), shot, exampleWall());
  CHECK(room.width_mm == doctest::Approx(1500));
  CHECK(room.side_by_side == 3);
  CHECK(room.staggered == 3);
}

TEST_CASE("nobody fits behind the camera") {
  Shot shot = headOn(1000);
  const RoomForPeople room = roomForPeople(cameraOf(shot), shot, exampleWall());
  CHECK(room.width_mm == 0);
  CHECK(room.side_by_side == 0);
  CHECK(room.staggered == 0);
}
