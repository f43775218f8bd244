// Where the camera stands for each of the usual framings: heads, hems and shoulders fall where they should.

#include "engine/camera/people_framing.h"
#include "engine/camera/projection.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::camera;

namespace {

constexpr WallFrame wall{Units::inch, 96 * 25.4, 96 * 25.4, 0};

Shot couple() {
  Shot shot;
  shot.name = "couple";
  shot.upright = true;
  shot.lens.mm = 85;
  shot.camera_above_floor = {50};
  shot.camera_out = {200};
  shot.aim_above_floor = {50};
  shot.people = {{{66}, {-7}, {48}}, {{70}, {9}, {44}}};
  return shot;
}

WallPoint at(double right_in, double above_floor_in, double out_in) {
  return {{96 * 25.4 / 2 + right_in * 25.4, above_floor_in * 25.4, out_in * 25.4}};
}

glm::dvec2 shareOf(const Shot& shot, WallPoint point) {
  const auto camera = makeCamera(shot, wall);
  REQUIRE(camera);
  const auto pixel = project(*camera.value, point);
  REQUIRE(pixel);
  return pixel->px / glm::dvec2(camera.value->width_px, camera.value->height_px);
}

}  // namespace

TEST_CASE("the tallest head has its air, the lowest part is at the lower edge") {
  for (const FramingFacts& facts : allFramings()) {
    CAPTURE(std::string(facts.name));
    const auto framed = framedFor(couple(), facts.framing, wall);
    REQUIRE(framed);
    // Two abreast are broader than a picture of their upper halves is high.
    const bool by_height = facts.from_height < 0.2;
    // Before the middle of the two, 46 in from the board.
    CHECK(shareOf(*framed, at(1, 70, 46)).y == doctest::Approx(facts.air_above).epsilon(1e-9));
    if (by_height)
      CHECK(shareOf(*framed, at(1, 70 * facts.from_height, 46)).y ==
            doctest::Approx(1 - facts.air_below).epsilon(1e-9));
    CHECK(shareOf(*framed, at(1, 40, 46)).x == doctest::Approx(0.5).epsilon(1e-9));
    CHECK((framed->camera_above_floor == framed->aim_above_floor));
  }
}

TEST_CASE("one person fills the height in every framing") {
  for (const FramingFacts& facts : allFramings()) {
    CAPTURE(std::string(facts.name));
    Shot shot = couple();
    shot.people.erase(shot.people.begin());
    const auto framed = framedFor(shot, facts.framing, wall);
    REQUIRE(framed);
    CHECK(shareOf(*framed, at(9, 70, 44)).y == doctest::Approx(facts.air_above).epsilon(1e-9));
    const double lowest = shareOf(*framed, at(9, 70 * facts.from_height, 44)).y;
    if (facts.framing == Framing::headAndShoulders)
      CHECK(lowest < 1);  // shoulders are broader than an upright picture of a head
    else
      CHECK(lowest == doctest::Approx(1 - facts.air_below).epsilon(1e-9));
  }
}

TEST_CASE("where the breadth decides, all stand in the picture with a twentieth free at each side") {
  Shot shot = couple();
  shot.camera_right = {1};
  shot.people = peopleSideBySide(shot, 6, wall);
  REQUIRE(shot.people.size() == 6);
  const auto framed = framedFor(shot, Framing::fullLength, wall);
  REQUIRE(framed);
  // Six times 19 in around the middle of the couple.
  CHECK(shareOf(*framed, at(1 - 57, 60, 46)).x == doctest::Approx(0.05).epsilon(1e-9));
  CHECK(shareOf(*framed, at(1 + 57, 60, 46)).x == doctest::Approx(0.95).epsilon(1e-9));
  CHECK(shareOf(*framed, at(1, 70, 46)).y == doctest::Approx(0.06).epsilon(1e-9));
}

TEST_CASE("a camera that looks from the side goes on doing so") {
  Shot shot = couple();
  shot.camera_right = {101};
  shot.camera_out = {146};
  const auto framed = framedFor(shot, Framing::threeQuarter, wall);
  REQUIRE(framed);
  // From 45 degrees before and after: as far aside as before the people.
  CHECK(framed->camera_right.value - 1 == doctest::Approx(framed->camera_out.value - 46));
  CHECK(shareOf(*framed, at(1, 70, 46)).x == doctest::Approx(0.5).epsilon(1e-9));
  CHECK(shareOf(*framed, at(1, 70, 46)).y == doctest::Approx(0.07).epsilon(1e-9));
}

TEST_CASE("a longer lens stands farther back in proportion; nobody in the shot is one person") {
  Shot shot = couple();
  shot.people.clear();
  const auto near = framedFor(shot, Framing::halfLength, wall);
  shot.lens.mm = 170;
  const auto far = framedFor(shot, Framing::halfLength, wall);
  REQUIRE(near);
  REQUIRE(far);
  CHECK(near->people.size() == 1);
  CHECK(near->people[0].height.value == doctest::Approx(66));
  CHECK(far->camera_out.value - 48 == doctest::Approx(2 * (near->camera_out.value - 48)));
  shot.lens.mm = 0;
  CHECK(!framedFor(shot, Framing::halfLength, wall));
}
