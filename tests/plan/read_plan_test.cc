#include "engine/plan/read_plan.h"

#include "engine/base/file.h"
#include "tests/plan/data_folder.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <filesystem>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;
using petalproof::testing::data;
namespace fs = std::filesystem;

namespace {

LoadedPlan loadedFrom(const fs::path& file) {
  auto result = loadPlan(file);
  std::string problems;
  for (const Problem& problem : result.problems) problems += toString(problem) + "\n";
  INFO(problems);
  REQUIRE(result);
  CHECK(result.warnings.empty());
  return *result.value;
}

LoadedPlan everything() { return loadedFrom(data / "good/everything.toml"); }

}  // namespace

TEST_CASE("the head of a plan is read") {
  const Plan plan = everything().plan;
  CHECK(plan.title == "Harvest Lanterns");
  CHECK(plan.units == Units::inch);
  CHECK(plan.seed == 42);
  CHECK(plan.variation == 0.5);
}

TEST_CASE("the wall is read") {
  const Wall wall = everything().plan.wall;
  CHECK(wall.columns == 3);
  CHECK(wall.rows == 2);
  CHECK(wall.panel == Size{{24}, {20}});
  CHECK(wall.seam == Length{0.0625});
  CHECK(wall.above_floor == Length{6});
  CHECK(wall.board.thickness == Length{0.1875});
  CHECK(wall.board.colour == Colour{0xf5, 0xf3, 0xee});
  CHECK(wall.board.edge == Colour{255, 255, 255});
  CHECK(wall.board.ground == Ground::covered);
  CHECK(wall.behind == Colour{0x2e, 0x2b, 0x2a});
  CHECK(wall.room.colour == Colour{0x8f, 0x8a, 0x84});
  CHECK(wall.room.ceiling == Length{108});
  CHECK(wall.room.depth == Length{240});
  CHECK(wall.mounting == Mounting::solidWall);
  CHECK(wall.grid.at(0, 0) == Cell{"sun", false});
  CHECK(wall.grid.at(1, 0) == Cell{"drift", true});
  CHECK_FALSE(wall.grid.at(2, 0).hasPanel());
  CHECK(wall.grid.at(2, 1) == Cell{"sun", true});
}

TEST_CASE("blooms are read") {
  const auto blooms = everything().plan.blooms;
  REQUIRE(blooms.size() == 3);
  const Bloom& ember = blooms[0];
  CHECK(ember.name == "ember");
  CHECK(ember.label == "Ember dahlia");
  CHECK(std::get<Shape>(ember.form) == Shape::dahlia);
  CHECK(ember.diameter == Length{17});
  CHECK(ember.depth == Length{4});
  CHECK(ember.petals == 12);
  CHECK(ember.layers == 4);
  CHECK(ember.colours == std::vector<Colour>{{0xb5, 0x38, 0x2a}, {0xc2, 0x50, 0x2f}});
  CHECK(ember.card == std::vector<Card>{{"rust 80 lb", 8}, {"gold foil", 1}});
  CHECK(ember.strips == 3);
  CHECK(ember.plate == Length{5});
  CHECK(ember.minutes == 50);
  CHECK_FALSE(ember.filler);
  const Bloom& frond = blooms[1];
  CHECK(std::get<Shape>(frond.form) == Shape::leafSpray);
  CHECK(frond.diameter == Length{8.5});
  CHECK(frond.width == Length{3.25});
  CHECK(frond.colours == std::vector<Colour>{{0x66, 0xbb, 0x77}});
  CHECK(frond.card == std::vector<Card>{{"", 0.5}});
  CHECK(frond.filler);
  CHECK(frond.stock == 12);
  CHECK_FALSE(frond.plate);
  CHECK(std::get<MeshFile>(blooms[2].form).path == "shapes/own bloom.obj");
  CHECK(blooms[2].diameter.value == doctest::Approx(20 / 2.54));
}

TEST_CASE("layouts and fillers are read") {
  const Plan plan = everything().plan;
  REQUIRE(plan.layouts.size() == 2);
  REQUIRE(plan.layouts[0].blooms.size() == 2);
  CHECK(plan.layouts[0].blooms[0] == Placement{"ember", {{12}, {10}}, 15, {0}, {}});
  CHECK(plan.layouts[0].blooms[1] == Placement{"frond", {{-3.5}, {16}}, 0, {0.5}, Colour{0xe8, 0xa2, 0x3d}});
  CHECK(plan.layouts[1] == Layout{"drift", {}});
  REQUIRE(plan.fillers.size() == 1);
  CHECK(plan.fillers[0] == Filler{{"frond", {{23.9}, {31.5}}, -40, {0}, Colour{0xe8, 0xa2, 0x3d}}, true});
}

TEST_CASE("shots are read") {
  const auto shots = everything().plan.shots;
  REQUIRE(shots.size() == 2);
  const Shot& couple = shots[0];
  CHECK(couple.sensor == Sensor{"full frame", 36, 24});
  CHECK(couple.upright);
  CHECK(couple.megapixels == 20.5);
  CHECK(couple.lens == FocalLength{85, false});
  CHECK(couple.aperture == 4);
  CHECK(couple.camera_right == Length{0});
  CHECK(couple.camera_above_floor == Length{60});
  CHECK(couple.camera_out == Length{204});
  CHECK(couple.aim_right == Length{0});
  CHECK(couple.aim_above_floor == Length{54});
  CHECK(couple.focus == Length{152});
  CHECK(couple.crop == CropShape{8, 10});
  CHECK(couple.looked_at == LookedAt{"print 8x10", {}, {}});
  CHECK(couple.people == std::vector<Person>{{{66}, {-7}, {48}}, {{70}, {7}, {48}}});
  const Shot& phone = shots[1];
  CHECK(phone.sensor == Sensor{"", 9.8, 7.35});
  CHECK(phone.lens == FocalLength{24, true, 77.5});
  CHECK(phone.aperture == 5.6);
  CHECK(phone.megapixels == 24);
  REQUIRE(phone.looked_at);
  CHECK(phone.looked_at->width == Length{2.75});
  CHECK(phone.looked_at->distance.value == doctest::Approx(35 / 2.54));
}

TEST_CASE("thresholds of the reading are read") {
  CHECK(everything().plan.reading == ReadingThresholds{2, 0.7, 0.95});
}

TEST_CASE("named sensors have their sizes") {
  // Trade usage; phone: value from memory.
  const auto sensorOf = [](const std::string& name) {
    const auto result = readPlan(
        "format = 1\ntitle = \"\"\nunits = \"mm\"\n[wall]\ncolumns = 1\nrows = 1\npanel = "
        "[600, 500]\ngrid = [ [\"\"] ]\n[[shot]]\nname = \"a\"\nlens = 20\ncamera = [0, "
        "1, 2]\naim = [0, 1]\nsensor = \"" +
            name + "\"",
        "plan.toml", {});
    REQUIRE(result);
    return result.value->plan.shots[0].sensor;
  };
  CHECK(sensorOf("full frame") == Sensor{"full frame", 36, 24});
  CHECK(sensorOf("APS-C") == Sensor{"APS-C", 23.6, 15.8});
  CHECK(sensorOf("four thirds") == Sensor{"four thirds", 17.3, 13});
  CHECK(sensorOf("1 inch") == Sensor{"1 inch", 13.2, 8.8});
  CHECK(sensorOf("phone") == Sensor{"phone", 9.8, 7.35});
}

TEST_CASE("what is left out has its default") {
  const Plan plan = loadedFrom(data / "good/least.toml").plan;
  CHECK(plan.seed == 1);
  CHECK(plan.variation == 1);
  CHECK(plan.wall.seam.value == 0.15875);             // 1/16 in
  CHECK(plan.wall.board.thickness.value == 0.47625);  // 3/16 in
  CHECK(plan.wall.above_floor == Length{0});
  CHECK(plan.wall.board.colour == Colour{255, 255, 255});
  CHECK_FALSE(plan.wall.board.edge);
  CHECK(plan.wall.board.ground == Ground::bare);
  CHECK(plan.wall.mounting == Mounting::frame);
  CHECK(plan.wall.room == Room{});
  CHECK_FALSE(plan.hands);
  CHECK(plan.shots.empty());
  CHECK(plan.reading == ReadingThresholds{2.3, 0.75, 0.9});
}

TEST_CASE("hands that say little are usual ones for the rest") {
  const auto result = readPlan(
      "format = 1\ntitle = \"\"\nunits = \"mm\"\n[wall]\ncolumns = 1\nrows = 1\npanel = [600, "
      "500]\ngrid = [ [\"\"] ]\n[hands]\nplace = 6\n",
      "plan.toml", {});
  REQUIRE(result);
  CHECK(result.value->plan.hands == Hands{0.04, 0.15, {6}, 15, {3.81}, {3.048}});
}

TEST_CASE("the parts of a plan keep their places") {
  const LoadedPlan loaded = everything();
  const PlanPlaces& places = loaded.places;
  const auto at = [&](int line, int column) { return Place{loaded.file, line, column}; };
  CHECK(loaded.file == (data / "good/everything.toml").string());
  CHECK(loaded.directory == data / "good");
  CHECK(places.wall == at(8, 1));
  CHECK(places.room_ceiling == at(16, 40));
  CHECK(places.room_depth == at(16, 56));
  REQUIRE(places.blooms.size() == 3);
  CHECK(places.blooms[0] == at(23, 1));
  CHECK(places.blooms[1] == at(37, 1));
  CHECK(places.blooms[2] == at(49, 8));  // of the mesh's path
  REQUIRE(places.placements.size() == 2);
  REQUIRE(places.placements[0].size() == 2);
  CHECK(places.placements[0][1] == at(57, 3));
  CHECK(places.placements[1].empty());
  CHECK(places.fillers == std::vector{at(64, 1)});
  CHECK(places.shots == std::vector{at(72, 1), at(87, 1)});
  CHECK(places.shot_cameras == std::vector{at(80, 10), at(91, 10)});
  CHECK(places.shot_aims == std::vector{at(81, 7), at(92, 7)});
}

TEST_CASE("a plan is loaded by a relative path as well") {
  const fs::path before = fs::current_path();
  fs::current_path(data);
  const auto loaded = loadPlan("good/least.toml");
  fs::current_path(before);
  REQUIRE(loaded);
  CHECK(loaded.value->file == "good/least.toml");
  CHECK(loaded.value->directory == fs::path("good"));
}

TEST_CASE("a plan that isn't there is a problem of the file as a whole") {
  const auto result = loadPlan("no/such plan.toml");
  REQUIRE_FALSE(result);
  REQUIRE(result.problems.size() == 1);
  CHECK(toString(result.problems[0]) == "no/such plan.toml: can't be read: there is no such file or folder");
}

TEST_CASE("a bloom that touches nothing of its panel is warned of") {
  const auto warningsOf = [](const std::string& at, const std::string& filler_at) {
    const std::string text = fmt::format(
        "format = 1\ntitle = \"\"\nunits = \"in\"\n[wall]\ncolumns = 2\nrows = 1\npanel = [24, 20]\nseam = "
        "0\ngrid = "
        "[ [\"sun\", \"\"] ]\n[[bloom]]\nname = \"ember\"\nshape = \"rose\"\ndiameter = 10\ncolour = "
        "\"#fff\"\n"
        "[[layout]]\nname = \"sun\"\nblooms = [ {{ bloom = \"ember\", at = {} }} ]\n"
        "[[filler]]\nbloom = \"ember\"\nat = {}\n",
        at, filler_at);
    const auto result = readPlan(text, "plan.toml", {});
    REQUIRE(result);
    std::string all;
    for (const Problem& warning : result.warnings) all += toString(warning) + "\n";
    return all;
  };
  CHECK(warningsOf("[-5, 10]", "[53, 10]").empty());  // their rims touch
  CHECK(warningsOf("[-5.1, 10]", "[48, 25.1]") ==
        "plan.toml:17:12: \"ember\" lies wholly off its panel of 24 x 20 in; is \"at\" right?\n"
        "plan.toml:18:1: \"ember\" lies wholly off the wall of 48 x 20 in; is \"at\" right?\n");
  // Beyond a corner by 4 and 4: 5.66 away, its radius is 5.
  CHECK(warningsOf("[28, 24]", "[10, 10]") ==
        "plan.toml:17:12: \"ember\" lies wholly off its panel of 24 x 20 in; is \"at\" right?\n");
  CHECK(warningsOf("[27, 23]", "[10, 10]").empty());
}
