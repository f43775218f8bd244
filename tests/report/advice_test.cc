#include "engine/report/advice_words.h"
#include "engine/report/internal/advice_json.h"
#include "engine/report/internal/text_columns.h"
#include "tests/report/made_up.h"
#include "tests/support/texts.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <sstream>

namespace petalproof {
using testing::holds;

namespace {

plan::Shot coupleShot() {
  plan::Shot shot;
  shot.name = "couple";
  shot.lens = {85, false};
  shot.aperture = 4;
  shot.camera_right = {-24};
  shot.camera_above_floor = {55};
  shot.camera_out = {189};
  shot.aim_right = {0};
  shot.aim_above_floor = {51.25};
  shot.people = {{{66}, {-7}, {72}}, {{70}, {7}, {72}}};
  return shot;
}

advice::TriedChange tried(advice::ChangeKind kind, double amount, check::ReadingCounts counts) {
  advice::TriedChange made;
  made.change = {kind, amount, coupleShot()};
  made.counts = counts;
  return made;
}

advice::Advice madeUpAdvice() {
  advice::Advice advice;
  advice.now = {36, 9, 4};
  advice::ShotAdvice couple{
      "couple", {12, 3, 1}, tried(advice::ChangeKind::people, 609.6, {0, 5, 11}), {}, 2};
  advice::ShotAdvice group{"group", {20, 6, 3}, {}, tried(advice::ChangeKind::stop, 2.8, {3, 8, 18}), 31};
  advice::ShotAdvice phone{"phone", {4, 0, 0}, {}, {}, 7};
  advice::ShotAdvice child{"child", {2, 0, 0}, {}, {}, 1};
  advice.shots = {couple, group, phone, child};
  advice.colours = {{{{0x5c, 0x8a, 0x4a}, "the green of Olive \"leaf\""}, {2, 5, 42}, {2, 3, 31}},
                    {{{0x1c, 0x1c, 0x1c}, "black"}, {10, 9, 30}, {9, 3, 24}},
                    {{{0xb5, 0x8a, 0x5e}, "kraft brown"}, {36, 9, 4}, {36, 0, 0}}};
  return advice;
}

}  // namespace

TEST_CASE("what would help is said in a few lines") {
  CHECK(report::adviceLines(madeUpAdvice(), Units::inch) == R"(What would help
  couple     12 holes show now, none with everybody and the camera 2 ft farther from the wall: the
             people 6 ft, the camera 15 ft 9 in from it
  group      20 holes show now; each of the 31 changes tried leaves some; fewest, 3, at f/2.8
  phone      4 holes show; each of the 7 changes tried leaves some
  child      2 holes show; the one change tried leaves some
  Boards     cover them in the green of Olive "leaf" (#5c8a4a) and 31 of the 36 holes that show are
             lost, 3 faint, 2 still show
             or in black (#1c1c1c): 24 of the 36 holes that show are lost, 3 faint, 9 still show
)");
}

TEST_CASE("each kind of change says what to do and where the camera then stands") {
  const auto words = [](advice::ChangeKind kind, double amount) {
    return report::changeWords({kind, amount, coupleShot()}, Units::inch);
  };
  const std::string standing =
      "24 in left of the centre line, 55 in above the floor, 15 ft 9 in from the wall, aimed on the centre "
      "line and 51 1/4 in above the floor";
  CHECK(words(advice::ChangeKind::side, -609.6) == "with the camera 2 ft farther left: " + standing);
  CHECK(words(advice::ChangeKind::side, 304.8) == "with the camera 1 ft farther right: " + standing);
  CHECK(words(advice::ChangeKind::height, -152.4) == "with the camera 6 in lower: " + standing);
  CHECK(words(advice::ChangeKind::distance, 304.8) == "with the camera 1 ft farther away: " + standing);
  CHECK(words(advice::ChangeKind::lens, 85) ==
        "with a lens of 85 mm from 15 ft 9 in, the people as large as now: " + standing);
  CHECK(report::changeWords({advice::ChangeKind::lens, 85, coupleShot(), true}, Units::inch) ==
        "with the zoom at 85 mm");
  CHECK(words(advice::ChangeKind::stop, 2.8) == "at f/2.8");
}

TEST_CASE("advice where nothing shows, and where no colour does better") {
  advice::Advice advice;
  CHECK(holds(report::adviceLines(advice, Units::inch), "nothing needs to: no hole shows in any shot\n"));
  advice = madeUpAdvice();
  advice.colours.erase(advice.colours.begin(), advice.colours.begin() + 2);
  CHECK(holds(report::adviceLines(advice, Units::inch),
              "  Boards     no other colour does much better than their own; 1 tried\n"));
  advice.shots[2].tried = 0;
  CHECK(holds(report::adviceLines(advice, Units::inch),
              "  phone      4 holes show; there is no change to try that keeps its framing\n"));
}

TEST_CASE("advice as JSON: fixed keys, lengths in the wall frame") {
  const std::string text = report::adviceJson(madeUpAdvice(), {Units::inch, 2540, 2032, 152.4});
  const auto json = nlohmann::ordered_json::parse(text);
  const auto keys = [](const nlohmann::ordered_json& object) {
    std::string all;
    for (const auto& item : object.items()) all += item.key() + " ";
    return all;
  };
  CHECK(keys(json) == "shows faint lost shots boards ");
  CHECK(keys(json["shots"][0]) == "name shows faint lost tried change best ");
  CHECK(keys(json["shots"][0]["change"]) == "kind amount camera_mm aim_mm lens aperture shows faint lost ");
  CHECK(keys(json["boards"][0]) == "colour name shows faint lost of_showing ");
  CHECK(json["shots"][0]["change"]["kind"] == "people");
  CHECK(json["shots"][0]["change"]["camera_mm"][0] == doctest::Approx(1270 - 24 * 25.4));
  CHECK(json["shots"][0]["change"]["camera_mm"][1] == doctest::Approx(55 * 25.4 - 152.4));
  CHECK(json["shots"][0]["change"]["aim_mm"][1] == doctest::Approx(51.25 * 25.4 - 152.4));
  CHECK(json["shots"][0]["best"].is_null());
  CHECK(json["shots"][1]["change"].is_null());
  CHECK(json["shots"][1]["best"]["shows"] == 3);
  CHECK(json["boards"][0]["name"] == "the green of Olive \"leaf\"");
  CHECK(json["boards"][0]["of_showing"]["lost"] == 31);
}

}  // namespace petalproof
