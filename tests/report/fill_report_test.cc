#include "engine/report/fill_json.h"
#include "engine/report/fill_list.h"
#include "engine/report/fill_map.h"
#include "engine/report/internal/hanging_order.h"

#include "tests/report/made_up.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include <algorithm>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::gaps;
using namespace petalproof::reading;
using namespace petalproof::check;
using namespace petalproof::fill;
using namespace petalproof::report;

namespace {

LoadedPlan planWithFillers(Units units) {
  LoadedPlan loaded = made_up::plan(units);
  Bloom bud;
  bud.name = "bud";
  bud.label = "Honey bud";
  bud.diameter = {3};
  bud.colours = {{232, 162, 61}, {181, 56, 42}};
  Bloom fern;
  fern.name = "fern";
  fern.diameter = {9};
  fern.colours = {{90, 120, 70}};
  loaded.plan.blooms = {bud, fern};
  return loaded;
}

struct Spot {
  int kind;
  glm::dvec2 at_mm;
  int column;
  int row;
  const char* over;
  int rank;
};

// On the panels of made_up: 508 x 406.4 mm, 1.5875 mm between.
PlacedFiller placed(const Spot& spot, const LoadedPlan& loaded) {
  const PanelGrid panels = made_up::panels();
  PlacedFiller filler;
  filler.kind = spot.kind;
  filler.filler.placement.bloom = loaded.plan.blooms[static_cast<std::size_t>(spot.kind)].name;
  filler.filler.placement.turn_deg = 359.6;
  filler.colour = loaded.plan.blooms[static_cast<std::size_t>(spot.kind)].colours.front();
  filler.at.mm = spot.at_mm;
  filler.panel_column = spot.column;
  filler.panel_row = spot.row;
  filler.from_left_mm = spot.at_mm.x - panels.left_mm(spot.column);
  filler.from_top_mm = panels.top_mm(spot.row) - spot.at_mm.y;
  filler.over = spot.over;
  filler.when = filler.over.size() > 2 ? When::afterTaping : When::onTheTable;
  filler.rank = spot.rank;
  filler.hidden_mm2 = 1000.0 / spot.rank;
  filler.hides = {"couple.1"};
  return filler;
}

// Seven fillers: at the crossing, on both seams, on panels of both rows; one was there before.
FillResult madeUpResult(const LoadedPlan& loaded) {
  FillResult result;
  const auto add = [&](const Spot& spot) { result.fillers.push_back(placed(spot, loaded)); };
  add({0, {100, 700}, 0, 0, "A1", 7});
  add({0, {508.5, 700}, 0, 0, "A1|B1", 2});
  add({0, {508, 410}, 0, 0, "A1+B2", 1});
  add({1, {900, 700}, 1, 0, "B1", 3});
  add({0, {300, 410}, 0, 0, "A1/A2", 4});
  add({0, {100, 300}, 0, 1, "A2", 5});
  add({0, {900, 200}, 1, 1, "B2", 6});
  result.fillers[3].table_left_mm = 117.5;
  result.fillers[3].table_top_mm = 292.1;
  result.fillers[5].old = true;
  result.count = 6;
  result.at_least = 5;
  ShotCheck before = made_up::shot();
  before.found.gaps = {made_up::gap(1, {GapKind::seam, 0, 0, true}, {508.8, 500}, 100, 4),
                       made_up::gap(2, {GapKind::crossing, 0, 0, false}, {508.8, 407}, 30, 6)};
  before.readings = {made_up::reading(Reads::shows, 0.97), made_up::reading(Reads::faint, 0.8)};
  ShotCheck after = made_up::shot();
  after.found.gaps = {made_up::gap(1, {GapKind::seam, 0, 0, true}, {508.8, 500}, 10, 2)};
  after.readings = {made_up::reading(Reads::lost, 0.3)};
  result.before = made_up::check({before});
  result.after = made_up::check({after});
  result.totals = {{0, {232, 162, 61}, 5, 3, 2.5, 100}, {1, {90, 120, 70}, 1, 3, 1, 35}};
  result.filled = loaded;
  return result;
}

struct MadeUp {
  LoadedPlan loaded;
  Scene scene = made_up::scene();
  FillResult result;
  explicit MadeUp(Units units = Units::inch) : loaded(planWithFillers(units)), result(madeUpResult(loaded)) {}
  FilledWall wall() const { return {result, loaded, scene, scene}; }
};

}  // namespace

TEST_CASE("fillers go up row by row, from the table first, across a seam below when the lower row hangs") {
  const MadeUp made;
  const auto groups = hangingGroups(made.result.fillers);
  REQUIRE(groups.size() == 4);
  CHECK(groups[0].row == 1);
  CHECK(groups[0].when == When::onTheTable);
  CHECK(groups[0].fillers == std::vector<int>{0, 3});
  CHECK(groups[1].fillers == std::vector<int>{1});
  CHECK(groups[2].row == 2);
  CHECK(groups[2].fillers == std::vector<int>{5, 6});
  CHECK(groups[3].when == When::afterTaping);
  CHECK(groups[3].fillers == std::vector<int>{4, 2});
  CHECK(listNumbers(made.result.fillers) == std::vector<int>{1, 3, 7, 2, 6, 4, 5});
}

TEST_CASE("the list for the day reads as it should") {
  CHECK(fillList(MadeUp().wall()) == made_up::readTestFile("fill_list.txt"));
}

TEST_CASE("what is left is told by its share of what was noticed, too") {
  MadeUp made;
  FillResult& result = made.result;
  result.left = {{"couple.1", "no room"}, {"couple.2", "no room"}};
  const auto show = [](Check& check, const std::vector<double>& areas_mm2) {
    ShotCheck shot;
    shot.shot.name = "couple";
    for (const double area : areas_mm2) {
      shot.found.gaps.emplace_back().area_mm2 = area;
      shot.found.gaps.back().number = static_cast<int>(shot.found.gaps.size());
      shot.readings.emplace_back().reads = Reads::shows;
    }
    shot.readings.back().reads = Reads::lost;  // the last one counts for nothing
    made_up::addHoles(shot.found);
    check.shots = {shot};
  };
  const auto words = [&](const std::string& first = "2 holes are left") {
    const std::string list = fillList(made.wall());
    const auto from = list.find(first);
    return list.substr(from, list.find(".\n", from) + 1 - from);
  };
  show(result.before, {300, 700, 999});
  show(result.after, {20, 105, 999});
  CHECK(words() ==
        "2 holes are left that no filler hides, with 12.5 % of the bare area that was noticed before.");
  show(result.after, {0.3, 0.1, 999});
  CHECK(words() ==
        "2 holes are left that no filler hides, with under 0.1 % of the bare area that was noticed before.");
  show(result.after, {999});
  CHECK(words("1 hole is left") == "1 hole is left that no filler hides.");
}

TEST_CASE("the list in millimetres, with hands, notes and what is left") {
  MadeUp made(Units::millimetre);
  made.result.hands = HandsReport{{19, 20}, 200, 193, 0.9312, 0.95, 2, 196, 0.25};
  made.result.notes = {"The seam B2|C2 is wider than any filler."};
  made.result.left = {{"couple.1", "no filler whose plate fits beside \"ember\""}};
  CHECK(fillList(made.wall()) == made_up::readTestFile("fill_list_left.txt"));
}

TEST_CASE("a wall that needs none says so") {
  MadeUp made;
  made.result.fillers.clear();
  made.result.totals.clear();
  made.result.count = made.result.at_least = 0;
  made.result.before = made.result.after;
  CHECK(fillList(made.wall()) ==
        "Harvest \"Moon\"\n"
        "No fillers are needed.\n"
        "As it is no hole shows or is faint in the shot.\n"
        "\n"
        "  Shot    Holes before  With the fillers\n"
        "  couple  1 lost        1 lost\n");
}

TEST_CASE("a shot that sees nothing of the wall says so, beside one that sees nothing bare") {
  MadeUp made;
  ShotCheck covered = made_up::shot();
  covered.found.gaps.clear();
  covered.readings.clear();
  ShotCheck away = covered;
  away.shot.name = "away";
  away.shares = {};
  away.shares.off = 1;
  made.result.before = made.result.after = made_up::check({covered, away});
  const std::string list = fillList(made.wall());
  CHECK(list.find("  couple  nothing bare   nothing bare\n") != std::string::npos);
  CHECK(list.find("  away    no wall in it  no wall in it\n") != std::string::npos);
}

TEST_CASE("the JSON is the check with what fills the wall") {
  MadeUp made;
  made.result.left = {{"couple.1", "why \"not\""}};
  made.result.hands = HandsReport{{19, 20}, 200, 193, 0.9312, 0.95, 2, 196, 0.25};
  const std::string text = fillJson(made.wall());
  const auto json = nlohmann::ordered_json::parse(text);
  std::vector<std::string> keys;
  for (const auto& item : json.items()) keys.push_back(item.key());
  CHECK(keys == std::vector<std::string>{"format", "title", "plan", "wall", "shots", "bare_mm2", "fillers",
                                         "kept", "count", "at_least", "left", "totals", "hands", "notes",
                                         "after"});
  CHECK(json["count"] == 6);
  CHECK(json["at_least"] == 5);
  REQUIRE(json["fillers"].size() == 6);
  REQUIRE(json["kept"].size() == 1);
  CHECK(json["kept"][0]["number"] == 4);
  const auto& fern = json["fillers"][1];
  CHECK(fern["bloom"] == "fern");
  CHECK(fern["colour"] == "#5a7846");
  CHECK(fern["at_mm"] == nlohmann::ordered_json::array({900, 700}));
  CHECK(fern["panel"] == "B1");
  CHECK(fern["from_left_mm"].get<double>() == doctest::Approx(390.4125).epsilon(1e-9));
  CHECK(fern["from_top_mm"].get<double>() == doctest::Approx(114.3875).epsilon(1e-9));
  CHECK(fern["table_left_mm"] == 117.5);
  CHECK(fern["when"] == "on the table");
  CHECK(fern["rank"] == 3);
  CHECK(fern["hides"] == nlohmann::ordered_json::array({"couple.1"}));
  CHECK(json["fillers"][5]["over"] == "A1+B2");
  CHECK(json["fillers"][5]["when"] == "after taping");
  CHECK_FALSE(json["fillers"][5].contains("table_left_mm"));
  CHECK(json["left"][0]["why"] == "why \"not\"");
  CHECK(json["shots"][0]["gaps"].size() == 2);
  CHECK(json["after"]["shots"][0]["gaps"].size() == 1);
  CHECK(json["after"]["shots"][0]["gaps"][0]["reads"] == "lost");
  CHECK(json["hands"]["walls"] == "19/20");
  CHECK(json["hands"]["clean_but_left"] == 196);
  CHECK(json["hands"]["gaps_each"] == 0.25);
}

TEST_CASE("the map rings and numbers each filler at its own spot and leaves the rest alone") {
  MadeUp made;
  made.scene.blooms.clear();
  made.result.after.bare = made.result.before.bare = {};
  made.result.fillers.resize(1);
  FillResult none = made.result;
  none.fillers.front().at.mm = {900, 700};  // in the other half
  constexpr double area_px = 1.2e6;
  const Image with = fillMap(made.wall(), testing::allThreads(), area_px);
  const Image without = fillMap({none, made.loaded, made.scene, made.scene}, testing::allThreads(), area_px);
  REQUIRE(with.width_px == without.width_px);
  REQUIRE(with.height_px == without.height_px);
  // The picture spans the sheet but for the margins of 60 px and the room for the tape.
  const double px_per_mm = (with.width_px - 120 - 64) / made_up::panels().width_mm();
  double left = with.width_px;
  double right = 0;
  double top = with.height_px;
  double bottom = 0;
  for (int y = 0; y < with.height_px; ++y)
    for (int x = 0; x < with.width_px / 2; ++x) {
      const auto at = 3 * static_cast<std::ptrdiff_t>(y * with.width_px + x);
      if (std::equal(with.rgb.begin() + at, with.rgb.begin() + at + 3, without.rgb.begin() + at)) continue;
      left = std::min(left, x + 0.0);
      right = std::max(right, x + 1.0);
      top = std::min(top, y + 0.0);
      bottom = std::max(bottom, y + 1.0);
    }
  // A ring of 3 in, its line half outside, its middle 100 mm from the left.
  CHECK((left + right) / 2 == doctest::Approx(60 + 64 + 100 * px_per_mm).epsilon(0.01));
  CHECK(right - left == doctest::Approx(76.2 * px_per_mm + 5).epsilon(0.03));
  CHECK(bottom - top == doctest::Approx(right - left).epsilon(0.02));
}
