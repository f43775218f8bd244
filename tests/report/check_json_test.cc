#include "engine/report/check_json.h"

#include "engine/report/internal/json_text.h"
#include "tests/report/made_up.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <random>

namespace petalproof {
namespace {

using nlohmann::ordered_json;

std::vector<std::string> keysOf(const ordered_json& object) {
  std::vector<std::string> keys;
  for (const auto& item : object.items()) keys.push_back(item.key());
  return keys;
}

check::Check madeUpCheck() {
  check::ShotCheck couple = made_up::shot();
  couple.off.left_mm = 12.3456789;
  couple.off.right_mm = std::nullopt;
  couple.off.bottom_mm = 1e-9;
  couple.found.specks = {3, 1.25};
  couple.found.gaps = {
      made_up::gap(1, {gaps::GapKind::crossing, 0, 0, false}, {508.5, 407.5}, 8, 4),
      made_up::gap(2, {gaps::GapKind::seam, 0, 1, true}, {508.79375, 222.25}, 127, 15.875),
      made_up::gap(3, {gaps::GapKind::board, 1, 1, false}, {1.0 / 3, -1e-8}, 30, 20),
  };
  couple.found.gaps[2].behind_people = true;
  made_up::addHoles(couple.found);
  couple.readings = {made_up::reading(reading::Reads::shows, 0.97, 41.5),
                     made_up::reading(reading::Reads::faint, 0.8),
                     made_up::reading(reading::Reads::lost, 1.0 / 3)};
  check::ShotCheck clean = made_up::shot("clean");
  return made_up::check({couple, clean});
}

ordered_json parsed() {
  return ordered_json::parse(report::checkJson(madeUpCheck(), made_up::plan(), made_up::scene()));
}

TEST_CASE("JSON numbers are rounded to a millionth and look like numbers people write") {
  CHECK(json_text::number(0) == "0");
  CHECK(json_text::number(-0.0) == "0");
  CHECK(json_text::number(-4e-7) == "0");
  CHECK(json_text::number(-6e-7) == "-0.000001");
  CHECK(json_text::number(1e-6) == "0.000001");
  CHECK(json_text::number(1.0 / 3) == "0.333333");
  CHECK(json_text::number(2.0 / 3) == "0.666667");
  CHECK(json_text::number(100) == "100");
  CHECK(json_text::number(1200) == "1200");
  CHECK(json_text::number(0.1) == "0.1");
  CHECK(json_text::number(123456789.25) == "123456789.25");
  CHECK(json_text::number(std::nullopt) == "null");
  CHECK(json_text::number(std::numeric_limits<double>::infinity()) == "null");
  CHECK(json_text::number(std::nan("")) == "null");
}

TEST_CASE("JSON numbers read back within half a millionth") {
  for (unsigned seed = 0; seed < 1000; ++seed) {
    CAPTURE(seed);
    std::mt19937_64 random(seed);
    const double exponent = std::uniform_real_distribution(-8.0, 8.0)(random);
    const double value = std::uniform_real_distribution(-1.0, 1.0)(random) * std::pow(10.0, exponent);
    const double back = nlohmann::json::parse(json_text::number(value)).get<double>();
    CHECK(std::abs(back - value) <= 0.5000001e-6);
  }
}

TEST_CASE("the JSON has the agreed keys in the agreed order, and no others") {
  const ordered_json json = parsed();
  CHECK(keysOf(json) == std::vector<std::string>{"format", "title", "plan", "wall", "shots", "bare_mm2"});
  CHECK(keysOf(json["wall"]) ==
        std::vector<std::string>{"width_mm", "height_mm", "panels", "blooms", "fillers"});
  const ordered_json& shot = json["shots"][0];
  CHECK(keysOf(shot) ==
        std::vector<std::string>{"name", "pixels", "specks", "share", "off_mm", "blur_mm", "gaps", "holes"});
  CHECK(keysOf(shot["specks"]) == std::vector<std::string>{"count", "area_mm2"});
  CHECK(keysOf(shot["share"]) ==
        std::vector<std::string>{"bloom", "board", "seam", "behind", "off", "people"});
  CHECK(keysOf(shot["off_mm"]) == std::vector<std::string>{"left", "right", "top", "bottom"});
  CHECK(keysOf(shot["gaps"][0]) == std::vector<std::string>{"id", "kind", "where", "centre_mm", "area_mm2",
                                                            "width_mm", "length_mm", "pixels",
                                                            "behind_people", "hole", "reads", "outline_mm"});
  CHECK(keysOf(shot["holes"][0]) == std::vector<std::string>{"number", "pixels", "area_mm2", "width_arcmin",
                                                             "behind_people", "difference", "odder_than",
                                                             "reads"});
}

TEST_CASE("the JSON's holes hold the readings") {
  const ordered_json json = parsed();
  const ordered_json& shot = json["shots"][0];
  REQUIRE(shot["holes"].size() == 3);
  CHECK(shot["holes"][0]["number"] == 1);
  CHECK(shot["holes"][0]["odder_than"] == 0.97);
  CHECK(shot["holes"][0]["difference"] == 41.5);
  CHECK(shot["holes"][0]["width_arcmin"] == 12.25);
  CHECK(shot["holes"][0]["reads"] == "shows");
  CHECK(shot["holes"][2]["odder_than"] == 0.333333);
  CHECK(shot["gaps"][1]["hole"] == 2);
  CHECK(shot["gaps"][1]["reads"] == "faint");
  CHECK(json["shots"][1]["holes"] == ordered_json::array());
}

TEST_CASE("the JSON holds the check's values") {
  const ordered_json json = parsed();
  CHECK(json["format"] == 1);
  CHECK(json["title"] == "Harvest \"Moon\"");
  CHECK(json["plan"] == "harvest.toml");
  CHECK(json["wall"]["width_mm"] == 1017.5875);
  CHECK(json["wall"]["height_mm"] == 814.3875);
  CHECK(json["wall"]["panels"] == 4);
  CHECK(json["wall"]["blooms"] == 4);
  CHECK(json["wall"]["fillers"] == 1);
  CHECK(json["bare_mm2"] == 2);

  const ordered_json& shot = json["shots"][0];
  CHECK(shot["name"] == "couple");
  CHECK(shot["pixels"] == ordered_json({3200, 4000}));
  CHECK(shot["specks"]["count"] == 3);
  CHECK(shot["specks"]["area_mm2"] == 1.25);
  CHECK(shot["share"]["seam"] == 0.0001);
  CHECK(shot["share"]["people"] == 0.123);
  CHECK(shot["off_mm"]["left"] == 12.345679);
  CHECK(shot["off_mm"]["right"].is_null());
  CHECK(shot["off_mm"]["top"] == 0);
  CHECK(shot["off_mm"]["bottom"] == 0);
  CHECK(json["shots"][1]["gaps"] == ordered_json::array());
}

TEST_CASE("the JSON's gaps hold the gaps' values") {
  const ordered_json json = parsed();
  const ordered_json& gaps = json["shots"][0]["gaps"];
  REQUIRE(gaps.size() == 3);
  CHECK(gaps[0]["id"] == "couple.1");
  CHECK(gaps[0]["kind"] == "crossing");
  CHECK(gaps[0]["where"] == "A1+B2");
  CHECK(gaps[1]["kind"] == "seam");
  CHECK(gaps[1]["where"] == "A2|B2");
  CHECK(gaps[1]["centre_mm"] == ordered_json({508.79375, 222.25}));
  CHECK(gaps[1]["area_mm2"] == 2016.125);
  CHECK(gaps[1]["width_mm"] == 15.875);
  CHECK(gaps[1]["length_mm"] == 127);
  CHECK(gaps[1]["pixels"] == 40);
  CHECK(gaps[1]["behind_people"] == false);
  CHECK(gaps[1]["outline_mm"].size() == 5);
  CHECK(gaps[1]["outline_mm"][2] == ordered_json({516.73125, 285.75}));
  CHECK(gaps[2]["kind"] == "board");
  CHECK(gaps[2]["where"] == "B2");
  CHECK(gaps[2]["behind_people"] == true);
  CHECK(gaps[2]["centre_mm"] == ordered_json({0.333333, 0}));
}

TEST_CASE("the JSON is byte for byte the one kept in the repository") {
  const std::string json = report::checkJson(madeUpCheck(), made_up::plan(), made_up::scene());
  CHECK(json == made_up::readTestFile("check.json"));
  CHECK(json.back() == '\n');
}

TEST_CASE("a title that isn't UTF-8 or holds control characters still gives valid JSON") {
  plan::LoadedPlan loaded = made_up::plan();
  loaded.plan.title = "a\xff\n\x01z";
  const ordered_json json = ordered_json::parse(report::checkJson(madeUpCheck(), loaded, made_up::scene()));
  CHECK(json["title"] == "a\xEF\xBF\xBD\n\x01z");
}

}  // namespace
}  // namespace petalproof
