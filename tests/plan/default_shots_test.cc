#include "engine/plan/default_shots.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;

namespace {

Plan planOf(Units units, int columns, int rows, Size panel) {
  Plan plan;
  plan.units = units;
  plan.wall.columns = columns;
  plan.wall.rows = rows;
  plan.wall.panel = panel;
  plan.wall.above_floor = {10};
  return plan;
}

}  // namespace

TEST_CASE("a plan without a shot gets five") {
  const auto shots = defaultShots(planOf(Units::inch, 5, 4, {{20}, {20}}));
  std::vector<std::string> names;
  for (const Shot& shot : shots) names.push_back(shot.name);
  CHECK(names == std::vector<std::string>{"couple", "full length", "group", "phone", "whole wall"});
  CHECK(shots[0].people.size() == 2);
  CHECK(shots[1].people.size() == 1);
  CHECK(shots[2].people.size() >= 3);
  CHECK(shots[3].sensor.name == "phone");
  CHECK(shots[3].camera_right.value > 0);
  for (const Shot& shot : shots) CHECK(shot.camera_out.value > 0);
}

TEST_CASE("the whole wall x 1.04 lies just inside its frame") {
  for (const Units units : {Units::inch, Units::centimetre, Units::millimetre})
    for (const Size panel : {Size{{60}, {20}}, Size{{20}, {20}}, Size{{13}, {50}}}) {
      const Plan plan = planOf(units, 3, 2, panel);
      const Shot shot = defaultShots(plan).back();
      const Size outline = wallOutline(plan.wall);
      CHECK(shot.lens.mm == 50);
      CHECK(shot.sensor == Sensor{"full frame", 36, 24});
      // Similar triangles: seen side = distance * sensor side / lens.
      const double across = shot.camera_out.value * (shot.upright ? 24 : 36) / 50;
      const double down = shot.camera_out.value * (shot.upright ? 36 : 24) / 50;
      const double tightest = std::min(across / outline.width.value, down / outline.height.value);
      CHECK(tightest == doctest::Approx(1.04).epsilon(1e-12));
      CHECK(shot.camera_above_floor.value == doctest::Approx(10 + outline.height.value / 2).epsilon(1e-12));
      CHECK(shot.aim_above_floor == shot.camera_above_floor);
      CHECK(shot.camera_right.value == 0);
      CHECK(shot.upright == (outline.height > outline.width));
    }
}

TEST_CASE("the shots' people stand in front of the wall, as large as people are, in any unit") {
  for (const Units units : {Units::inch, Units::centimetre, Units::millimetre}) {
    const double per = millimetresPer(units);
    for (const Shot& shot : defaultShots(planOf(units, 4, 4, {{600 / per}, {500 / per}})))
      for (const Person& person : shot.people) {
        CHECK(person.height.value * per > 1500);
        CHECK(person.height.value * per < 2000);
        CHECK(person.out_from_board.value > 0);
        CHECK(person.out_from_board < shot.camera_out);
      }
  }
}

TEST_CASE("a wider wall gets a larger group, up to eight") {
  const auto groupOf = [](double width_mm) {
    return defaultShots(planOf(Units::millimetre, 1, 1, {{width_mm}, {2000}}))[2].people.size();
  };
  CHECK(groupOf(1000) == 3);
  CHECK(groupOf(3900) == 6);
  CHECK(groupOf(50'000) == 8);
}
