#include "engine/camera/focus.h"

#include "tests/camera/example_shots.h"

#include <doctest/doctest.h>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::camera;
using doctest::Approx;

TEST_CASE("the wall's blur and spread are those of a point of it at the picture's centre") {
  Shot shot = headOn(4000, 85);
  shot.aperture = 1.8;
  shot.focus = Length{2500};
  const FocusOfShot focus = focusOf(cameraOf(shot), shot, exampleWall());
  CHECK(focus.wall_is_seen);
  CHECK(focus.wall_blur_mm == Approx(0.62327).epsilon(1e-5));  // worked out with a throw-away script
  // The cone through the aperture of 85 / 1.8 mm, its tip 2500 away, is so wide 1500 behind it.
  CHECK(focus.wall_spread_mm == Approx(85 / 1.8 * 1500 / 2500));
  shot.focus = Length{4000};
  CHECK(focusOf(cameraOf(shot), shot, exampleWall()).wall_blur_mm == 0);
}

TEST_CASE("from the side the wall's distance runs along the axis") {
  Shot shot = shotFrom(3000, 1400, 4000, 0, 1400);
  shot.focus = Length{2500};
  shot.aperture = 2;
  const FocusOfShot focus = focusOf(cameraOf(shot), shot, exampleWall());
  CHECK(focus.wall_blur_mm == Approx(50 * 50 * 2500 / (2.0 * 5000 * 2450)));
}

TEST_CASE("eyes beyond what is sharp are named, those outside the picture are not") {
  // Focused on the nearest, 2000 away: c = 43.267 / 1500 mm, sharp to about 2110 and from 1900.
  Shot shot = headOn(4000, 85);
  shot.aperture = 4;
  const double height = 1400 / 0.935;  // eyes level with the lens
  shot.people = {{{height}, {0}, {1900}},
                 {{height}, {200}, {1850}},
                 {{height}, {-200}, {1500}},
                 {{height}, {2500}, {1000}},
                 {{height}, {0}, {4500}}};
  const FocusOfShot focus = focusOf(cameraOf(shot), shot, exampleWall());
  CHECK(focus.sharp.holds(2000));
  CHECK(focus.sharp.holds(2050));
  REQUIRE(focus.unsharp.size() == 1);
  CHECK(focus.unsharp[0].person == 2);
  CHECK(focus.unsharp[0].distance_mm == Approx(2400));
}
