#include "engine/camera/lens.h"
#include "engine/camera/projection.h"

#include "tests/camera/example_shots.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::camera;
using doctest::Approx;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

struct Example {
  ThinLens lens;
  double circle_mm;
  double hyperfocal_mm;
  double near_mm;
  double far_mm;
};

ThinLens randomLens(Random& random) {
  ThinLens lens;
  lens.focal_mm = random.magnitude(2, 800);
  lens.f_number = random.magnitude(0.7, 64);
  lens.focus_mm = lens.focal_mm * random.magnitude(1.01, 1e4);
  return lens;
}

// A row of the printed table: at one f-number, sharp from and to (infinity: without end), in metres.
struct TableEntry {
  double f_number;
  double near_m;
  double far_m;
};

}  // namespace

TEST_CASE("blur discs worked out by hand") {
  // A second opinion: worked out independently with a throw-away script.
  CHECK(blurDiscMm({50, 2.8, 2500}, 3000) == Approx(0.06074).epsilon(1e-4));
  CHECK(blurDiscMm({85, 1.8, 2500}, 4000) == Approx(0.62327).epsilon(1e-5));
  CHECK(blurDiscMm({35, 5.6, 2500}, 3000) == Approx(0.01479).epsilon(3e-4));
  CHECK(blurDiscMm({50, 1.8, 2000}, infinity) == Approx(0.71225).epsilon(1e-5));
}

TEST_CASE("what is in focus has no blur, and a pinhole has none at all") {
  Random random(1);
  for (int k = 0; k < 1000; ++k) {
    CAPTURE(k);
    const ThinLens lens = randomLens(random);
    CHECK(blurDiscMm(lens, lens.focus_mm) == 0);
    CHECK(blurSpreadMm(lens, lens.focus_mm) == 0);
    const double distance_mm = random.magnitude(1, 1e6);
    const double blur = blurDiscMm(lens, distance_mm);
    CHECK(blurDiscMm({lens.focal_mm, 1000 * lens.f_number, lens.focus_mm}, distance_mm) ==
          Approx(blur / 1000).epsilon(1e-12));
    CHECK(blurDiscMm({lens.focal_mm, infinity, lens.focus_mm}, distance_mm) == 0);
  }
}

TEST_CASE("the disc is what the cone of rays through the aperture leaves on the sensor") {
  Random random(2);
  for (int k = 0; k < 1000; ++k) {
    CAPTURE(k);
    const ThinLens lens = randomLens(random);
    const double distance_mm = lens.focal_mm * random.magnitude(1.01, 1e4);
    // The point's own image distance, by 1 / D + 1 / v = 1 / f; similar triangles with their tip there.
    const double point_image_mm = 1 / (1 / lens.focal_mm - 1 / distance_mm);
    const double sensor_mm = imageDistanceMm(lens);
    const double aperture_mm = lens.focal_mm / lens.f_number;
    const double disc_mm = aperture_mm * std::abs(sensor_mm - point_image_mm) / point_image_mm;
    const double largest_mm = aperture_mm * sensor_mm / lens.focal_mm;  // of a point far away
    CHECK(std::abs(blurDiscMm(lens, distance_mm) - disc_mm) < 1e-9 * largest_mm);
    const double magnification = sensor_mm / distance_mm;
    CHECK(std::abs(blurSpreadMm(lens, distance_mm) * magnification - disc_mm) < 1e-9 * largest_mm);
  }
}

TEST_CASE("the limits of what is sharp are where the blur is the circle of confusion") {
  Random random(3);
  for (int k = 0; k < 1000; ++k) {
    CAPTURE(k);
    const ThinLens lens = randomLens(random);
    const double circle_mm = random.magnitude(0.002, 0.1);
    const DepthOfField sharp = depthOfField(lens, circle_mm);
    CHECK(sharp.near_mm < lens.focus_mm);
    CHECK(sharp.holds(lens.focus_mm));
    CHECK(blurDiscMm(lens, sharp.near_mm) == Approx(circle_mm).epsilon(1e-8));
    CHECK_FALSE(sharp.holds(sharp.near_mm * (1 - 1e-9)));
    if (sharp.far_mm) {
      CHECK(*sharp.far_mm > lens.focus_mm);
      CHECK(blurDiscMm(lens, *sharp.far_mm) == Approx(circle_mm).epsilon(1e-8));
      CHECK(lens.focus_mm < hyperfocalMm(lens, circle_mm));
    } else {
      CHECK(blurDiscMm(lens, infinity) <= circle_mm * (1 + 1e-9));
      CHECK(lens.focus_mm >= hyperfocalMm(lens, circle_mm) * (1 - 1e-9));
    }
  }
}

TEST_CASE("focused at the hyperfocal distance all is sharp from half of it to infinity") {
  Random random(4);
  for (int k = 0; k < 1000; ++k) {
    CAPTURE(k);
    ThinLens lens = randomLens(random);
    const double circle_mm = random.magnitude(0.002, 0.1);
    lens.focus_mm = hyperfocalMm(lens, circle_mm);
    const DepthOfField sharp = depthOfField(lens, circle_mm);
    CHECK(sharp.near_mm == Approx(lens.focus_mm / 2).epsilon(1e-12));
    CHECK_FALSE(sharp.far_mm);
  }
}

TEST_CASE("hyperfocal distance and limits worked out by hand") {
  // A second opinion: worked out independently from the formulas with a throw-away script.
  const std::vector<Example> examples = {
      {{50, 8, 6000}, 0.03, 10466.67, 3818.74, 13992.54},
      {{50, 2.8, 3000}, 0.03, 29811.90, 2729.46, 3330.08},
      {{85, 2.8, 3000}, 0.03, 86096.90, 2901.66, 3105.24},
      {{35, 5.6, 3000}, 0.03, 7326.67, 2132.76, 5055.86},
  };
  for (const Example& example : examples) {
    CAPTURE(example.lens.focal_mm);
    CHECK(std::abs(hyperfocalMm(example.lens, example.circle_mm) - example.hyperfocal_mm) < 0.01);
    const DepthOfField sharp = depthOfField(example.lens, example.circle_mm);
    CHECK(std::abs(sharp.near_mm - example.near_mm) < 0.01);
    REQUIRE(sharp.far_mm);
    CHECK(std::abs(*sharp.far_mm - example.far_mm) < 0.01);
  }
}

TEST_CASE("a film maker's worked example") {
  // Kodak Customer Service Pamphlet AA-26, "Optical Formulas and Their Applications", as quoted in an
  // exercise of M. Lial et al., "Calculus with Applications": 50 mm at f/8 focused at 6 m, a point may spread
  // over 1/30 degree. Its w = u^2 tan / (L +- u tan) gives 3.850 and 13.590 m (worked out with a throw-away
  // script). There the angle is that of the disc seen from the lens, with the film a focal length behind it.
  const double circle_mm = 50 * std::tan(radians(1.0 / 30));
  const DepthOfField sharp = depthOfField({50, 8, 6000}, circle_mm);
  // The formula leaves out the 50 mm between film and lens: 0.6 to 1.3 % here.
  CHECK(sharp.near_mm == Approx(3850).epsilon(0.005));
  REQUIRE(sharp.far_mm);
  CHECK(*sharp.far_mm == Approx(13590).epsilon(0.015));
}

TEST_CASE("a lens maker's printed table of what is sharp") {
  // Nikon, "PC Micro-Nikkor 85 mm f/2.8D Instruction Manual", depth-of-field table, p. 84, focused at 2 m.
  const std::vector<TableEntry> at_2_m = {
      {2.8, 1.959, 2.043}, {4, 1.941, 2.063}, {5.6, 1.919, 2.089}, {8, 1.887, 2.129}, {11, 1.848, 2.183}};
  // The table measures from the film; a thin lens focused there is nearer to the object by its image distance
  // v, with s + v = 2 m and 1 / s + 1 / v = 1 / f. The maker's circle of confusion is about 1/30 mm: 0.033.
  constexpr double focal_mm = 85;
  constexpr double circle_mm = 0.033;
  constexpr double film_mm = 2000;
  const double focus_mm = (film_mm + std::sqrt(film_mm * film_mm - 4 * film_mm * focal_mm)) / 2;
  for (const TableEntry& entry : at_2_m) {
    CAPTURE(entry.f_number);
    const ThinLens lens{focal_mm, entry.f_number, focus_mm};
    const double image_mm = imageDistanceMm(lens);
    CHECK(focus_mm + image_mm == Approx(film_mm));
    const DepthOfField sharp = depthOfField(lens, circle_mm);
    CHECK(sharp.near_mm + image_mm == Approx(1000 * entry.near_m).epsilon(0.01));
    REQUIRE(sharp.far_mm);
    CHECK(*sharp.far_mm + image_mm == Approx(1000 * entry.far_m).epsilon(0.01));
  }
  // Focused at infinity it is sharp from the hyperfocal distance on.
  const std::vector<TableEntry> at_infinity = {{2.8, 78.15, infinity},
                                               {4, 54.76, infinity},
                                               {5.6, 39.16, infinity},
                                               {8, 27.46, infinity},
                                               {11, 20.02, infinity}};
  for (const TableEntry& entry : at_infinity) {
    CAPTURE(entry.f_number);
    CHECK(hyperfocalMm({focal_mm, entry.f_number, 1e12}, circle_mm) ==
          Approx(1000 * entry.near_m).epsilon(0.015));
  }
  // Its magnification at 2 m is given as 1 : 21.3; a thin lens has 1 : 21.5.
  CHECK(focus_mm / imageDistanceMm({focal_mm, 8, focus_mm}) == Approx(21.3).epsilon(0.01));
}

TEST_CASE("circles of confusion by the sensor's diagonal") {
  // Sensor sides by maker's manuals and common trade usage; d / 1500 is the modern convention (the "Zeiss
  // formula"; d / 1730 is apocryphal).
  const auto circleOf = [](const Sensor& sensor) {
    Shot shot = headOn(3000);
    shot.sensor = sensor;
    return circleOfConfusionMm(cameraOf(shot));
  };
  CHECK(circleOf({"", 36, 24}) == Approx(0.0288).epsilon(2e-3));
  CHECK(circleOf({"", 23.6, 15.8}) == Approx(0.0189).epsilon(3e-3));
  CHECK(circleOf({"", 17.3, 13}) == Approx(0.0144).epsilon(3e-3));
  CHECK(circleOf({"", 13.2, 8.8}) == Approx(0.0106).epsilon(3e-3));
}

TEST_CASE("a crop, a turned camera and more pixels change no blur") {
  Shot shot = headOn(3000, 85);
  shot.focus = Length{2000};
  shot.aperture = 2.8;
  const Camera plain = cameraOf(shot);
  shot.upright = true;
  shot.crop = CropShape{8, 10};
  shot.megapixels = 45;
  for (const Camera& camera : {cameraOf(shot), scaledTo(cameraOf(shot), 800)}) {
    CHECK(blurDiscMm(lensOf(camera), 3000) == blurDiscMm(lensOf(plain), 3000));
    CHECK(circleOfConfusionMm(camera) == Approx(circleOfConfusionMm(plain)));
  }
  CHECK(blurDiscMm(lensOf(plain), 3000) == Approx(85 * 85 * 1000 / (2.8 * 3000 * 1915)));
}

TEST_CASE("a phone sees as its full-frame equivalent and blurs as its small sensor") {
  Shot phone = headOn(2000, 26);
  phone.sensor = {"phone", 9.8, 7.35};
  phone.lens = {26, true};
  phone.aperture = 1.8;
  phone.focus = Length{1000};
  const Camera camera = cameraOf(phone);
  // The diagonal is 12.25 mm: 26 mm become 26 * 12.25 / 43.27.
  CHECK(camera.focal_mm == Approx(7.3608).epsilon(1e-4));
  CHECK(fieldOfView(camera).diagonal_deg ==
        Approx(fieldOfView(cameraOf(headOn(2000, 26))).diagonal_deg).epsilon(1e-3));
  CHECK(blurDiscMm(lensOf(camera), 2000) ==
        Approx(7.3608 * 7.3608 * 1000 / (1.8 * 2000 * (1000 - 7.3608))).epsilon(1e-4));
  // As a share of the picture it is that of the equivalent lens at the f-number times the crop factor.
  Shot full = headOn(2000, 26);
  full.aperture = 1.8 * 43.27 / 12.25;
  full.focus = Length{1000};
  const double share = blurDiscMm(lensOf(camera), 2000) / 12.25;
  CHECK(share == Approx(blurDiscMm(lensOf(cameraOf(full)), 2000) / 43.267).epsilon(0.03));
}

TEST_CASE("the board's distance at the picture's centre runs along the lens axis") {
  CHECK(boardDistanceMm(cameraOf(headOn(2500))) == Approx(2500));
  CHECK(boardDistanceMm(cameraOf(shotFrom(3000, 1400, 4000, 0, 1400))) == Approx(5000));
  Camera away = cameraOf(headOn(2500));
  away.cameraFromWall = glm::dmat3({-1, 0, 0}, {0, 1, 0}, {0, 0, -1});
  CHECK_FALSE(boardDistanceMm(away));
}

TEST_CASE("a zoom has two ends, a prime lens one") {
  Shot shot = headOn(3000);
  shot.lens = {70, false, 200};
  const auto ends = zoomEnds(shot);
  REQUIRE(ends.size() == 2);
  CHECK(ends[0].lens == FocalLength{70, false});
  CHECK(ends[1].lens == FocalLength{200, false});
  CHECK(cameraOf(ends[1]).focal_mm == 200);
  shot.lens = {24, true, 70};
  CHECK(zoomEnds(shot)[1].lens == FocalLength{70, true});
  shot.lens = {50, false};
  REQUIRE(zoomEnds(shot).size() == 1);
  CHECK((zoomEnds(shot)[0] == shot));
}

TEST_CASE("a lens isn't focused within its focal length") {
  const ShotPlaces places = {
      {"plan.toml", 1, 1}, {"plan.toml", 2, 10}, {"plan.toml", 3, 7}, {"plan.toml", 4, 9}};
  Shot shot = headOn(3000, 200);
  shot.focus = Length{150};
  const auto refused = makeCamera(shot, exampleWall(), places);
  REQUIRE_FALSE(refused);
  CHECK(toString(refused.problems.at(0)) ==
        "plan.toml:4:9: \"focus\" is 150 mm; no lens is sharp within its focal length, here 200 mm");
  shot.focus = Length{200};
  CHECK_FALSE(makeCamera(shot, exampleWall(), places));
  shot.focus = Length{200.001};
  CHECK(makeCamera(shot, exampleWall(), places));
  const auto near_wall = makeCamera(headOn(150, 200), exampleWall(), places);
  REQUIRE_FALSE(near_wall);
  CHECK(toString(near_wall.problems.at(0)) ==
        "plan.toml:2:10: the camera stands 150 mm from the wall; no lens is sharp within its focal length, "
        "here 200 mm");
  // Eyes right before the lens are passed over.
  shot = headOn(3000, 200);
  shot.people = {{Length{1497}, Length{0}, Length{2800}}, {Length{1497}, Length{0}, Length{1000}}};
  CHECK(cameraOf(shot).focus_mm == Approx(1900));
}
