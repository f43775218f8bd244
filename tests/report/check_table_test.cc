#include "engine/report/check_table.h"

#include "engine/report/internal/gap_words.h"
#include "engine/report/internal/shot_words.h"
#include "engine/report/internal/text_columns.h"
#include "engine/report/internal/worst_places.h"
#include "tests/report/made_up.h"
#include "tests/support/texts.h"

#include <doctest/doctest.h>

#include <sstream>

namespace petalproof {
using testing::holds;

namespace {

const gaps::Owner crossing{gaps::GapKind::crossing, 0, 0, false};
const gaps::Owner upright_seam{gaps::GapKind::seam, 0, 1, true};
const gaps::Owner level_seam{gaps::GapKind::seam, 1, 0, false};
const gaps::Owner panel{gaps::GapKind::board, 1, 1, false};

// The gap of the example that people gave: 7 1/4 in below the top of row 2, 5 in long, 5/8 in wide.
gaps::Gap exampleGap() { return made_up::gap(3, upright_seam, {508.79375, 406.4 - 184.15}, 127, 15.875); }

std::string tableOf(std::vector<check::ShotCheck> shots, Units units = Units::inch) {
  return report::checkTable(made_up::check(std::move(shots)), made_up::plan(units), made_up::scene());
}

TEST_CASE("where a gap is, in words") {
  const scene::PanelGrid panels = made_up::panels();
  CHECK(report::whereInWords(exampleGap(), panels, Units::inch) == "seam A2|B2, 7 1/4 in below the top of row 2");
  CHECK(report::whereInWords(made_up::gap(1, level_seam, {509.5875 + 76.2, 407}, 9, 9), panels, Units::inch) ==
        "seam B1/B2, 3 in from the left edge of column B");
  CHECK(report::whereInWords(made_up::gap(1, panel, {509.5875 + 76.2, 406.4 - 184.15}, 9, 9), panels, Units::inch) ==
        "panel B2, 3 in from its left, 7 1/4 in from its top");
  CHECK(report::whereInWords(made_up::gap(1, crossing, {508, 407}, 9, 9), panels, Units::inch) == "crossing A1+B2");
  CHECK(report::whereInWords(exampleGap(), panels, Units::centimetre) ==
        "seam A2|B2, 18.4 cm below the top of row 2");
}

TEST_CASE("a seam's gap that reaches past its end is not a negative distance away") {
  CHECK(report::whereInWords(made_up::gap(1, upright_seam, {508, 410}, 9, 9), made_up::panels(), Units::inch) ==
        "seam A2|B2, 0 in below the top of row 2");
}

TEST_CASE("a spot's line reads as one sentence") {
  check::ShotCheck shot = made_up::shot();
  shot.found.gaps = {exampleGap()};
  CHECK(holds(tableOf({shot}),
              "      1  seam A2|B2, 7 1/4 in below the top of row 2, 5 in long, 5/8 in wide\n"));
  CHECK(holds(tableOf({shot}), "  Holes      1 hole; in 1 spot, worst first:\n"));
}

TEST_CASE("builds by hands are counted, gap by gap, shot by shot and in all") {
  check::ShotCheck shot = made_up::shot();
  shot.found.gaps = {exampleGap()};
  const auto tableWith = [&](const check::BuildsCheck& builds) {
    check::Check check = made_up::check({shot});
    check.builds = builds;
    return report::checkTable(check, made_up::plan(Units::inch), made_up::scene());
  };
  const std::string some = tableWith({200, 9, {{{189}, 4, 11}}});
  CHECK(holds(some, "shows in 189 of 200 builds\n"));
  CHECK(holds(some,
              "  Hands      no hole shows in 11 of 200 builds; one shows where the plan has none in 4 of 200 "
              "builds\n"));
  CHECK(holds(some, "  Hands      no hole shows in 9 of 200 builds, all shots taken together\n"));
  const std::string none = tableWith({200, 0, {{{200}, 0, 0}}});
  CHECK(holds(none, "shows in all 200 builds\n"));
  CHECK(holds(none, "  Hands      a hole shows in all 200 builds\n"));
  CHECK(holds(none, "  Hands      a hole shows in all 200 builds, all shots taken together\n"));
}

TEST_CASE("gaps near the worst of a spot, slivers and specks are counted") {
  check::ShotCheck shot = made_up::shot();
  shot.found.gaps = {exampleGap()};
  for (int k = 0; k < 3; ++k) {
    shot.found.gaps.push_back(made_up::gap(4 + k, upright_seam, {508, 140.0 - 10 * k}, 5, 5));
  }
  for (int k = 0; k < 212; ++k) {
    shot.found.gaps.push_back(made_up::gap(7 + k, panel, {700, 100}, 20, 2));
  }
  shot.found.specks = {1, 0.5};
  const std::string table = tableOf({shot});
  CHECK(holds(table, "5/8 in wide  and 3 more within 3 in\n"));
  CHECK(holds(table, "4 holes; in 1 spot"));
  CHECK(holds(table, "and 212 slivers (under 1/8 in wide and 3 in long) and 1 speck (under 1 mm wide or 4 pixels)\n"));
}

TEST_CASE("a plan in centimetres is spoken of in centimetres throughout") {
  check::ShotCheck shot = made_up::shot();
  shot.off.left_mm = 123;
  shot.found.gaps = {exampleGap(), made_up::gap(4, upright_seam, {508, 140}, 5, 5),
                     made_up::gap(5, panel, {700, 100}, 20, 2)};
  const std::string table = tableOf({shot}, Units::centimetre);
  CHECK(holds(table, "seam A2|B2, 18.4 cm below the top of row 2, 12.7 cm long, 1.6 cm wide"));
  CHECK(holds(table, "and 1 more within 7.6 cm"));
  CHECK(holds(table, "1 sliver (under 0.3 cm wide and 7.6 cm long)"));
  CHECK(holds(table, "left 12.3 cm"));
  CHECK_FALSE(holds(table, " in wide"));
}

TEST_CASE("the worst twenty spots of a shot are listed, the others counted unless all are asked for") {
  check::ShotCheck shot = made_up::shot();
  const auto spotsAt = [&](int count) {
    shot.found.gaps.clear();
    for (int k = 0; k < count; ++k)  // 100 mm apart
      shot.found.gaps.push_back(
          made_up::gap(k + 1, panel, {520.0 + 100 * (k % 5), 20.0 + 100 * (k / 5)}, 9, 9 - 0.1 * k));
    shot.readings.assign(shot.found.gaps.size(), made_up::reading(reading::Reads::shows, 0.97));
    made_up::addHoles(shot.found);
  };
  const auto lines = [&](report::ListedSpots listed) {
    const std::string table =
        report::checkTable(made_up::check({shot}), made_up::plan(Units::inch), made_up::scene(), listed);
    std::istringstream in(table);
    int count = 0;
    for (std::string line; std::getline(in, line);) count += holds(line, "  shows  panel ") ? 1 : 0;
    return count;
  };
  spotsAt(20);
  CHECK(lines(report::ListedSpots::worst) == 20);
  CHECK_FALSE(holds(tableOf({shot}), "--all"));
  spotsAt(21);
  CHECK(lines(report::ListedSpots::worst) == 20);
  CHECK(lines(report::ListedSpots::all) == 21);
  CHECK(holds(tableOf({shot}), "in 21 spots, worst first:\n"));
  CHECK(holds(tableOf({shot}), "         and 1 more spot, which shows; --all lists it\n"));
  spotsAt(24);
  CHECK(holds(tableOf({shot}), "and 4 more spots, all of which show; --all lists them\n"));
  shot.readings[22].reads = shot.readings[23].reads = shot.readings[21].reads = reading::Reads::faint;
  CHECK(holds(tableOf({shot}), "and 4 more spots, 1 of which shows; --all lists them\n"));
  CHECK(lines(report::ListedSpots::all) == 21);
}

TEST_CASE("nothing found is said as plainly") {
  const std::string table = tableOf({made_up::shot()});
  CHECK(holds(table, "  Holes      none: nothing bare is seen\n"));
  const std::string two = tableOf({made_up::shot("a"), made_up::shot("b")});
  CHECK(holds(two, "nothing bare is seen in any shot\n"));
}

TEST_CASE("only slivers is not nothing") {
  check::ShotCheck shot = made_up::shot();
  shot.found.gaps = {made_up::gap(1, panel, {700, 100}, 20, 2)};
  const std::string table = tableOf({shot});
  CHECK(holds(table, "none 1/8 in wide or wider, only 1 sliver"));
  CHECK_FALSE(holds(table, "nothing bare"));
}

TEST_CASE("shares never round to nothing or to all") {
  CHECK(report::percentText(0) == "0.0 %");
  CHECK(report::percentText(0.0004) == "under 0.1 %");
  CHECK(report::percentText(0.0005) == "0.1 %");
  CHECK(report::percentText(0.1234) == "12.3 %");
  CHECK(report::percentText(0.99951) == "over 99.9 %");
  CHECK(report::percentText(1) == "100.0 %");
}

TEST_CASE("the frame: where it runs off the wall and what keeps it on") {
  check::ShotCheck shot = made_up::shot();
  CHECK(holds(tableOf({shot}), "  Frame      stays on the wall on all sides\n"));
  shot.off = {88.9, 0.0, std::nullopt, 0.0};
  CHECK(holds(tableOf({shot}), "runs off the wall: left 3 1/2 in, top without end\n"));
  CHECK(holds(tableOf({shot}), "neither coming closer nor a longer lens"));
  shot.remedy = {12.99 * 304.8, 104.2};
  // Rounded so that keeping to what is printed is enough.
  CHECK(report::remedyWords(shot, Units::inch) ==
        "with the camera no farther than 12 ft 11 in from the board, or with a lens of 105 mm or longer");
  shot.shot.lens = {26, true};
  shot.camera.focal_mm = 6.5;
  shot.remedy = {std::nullopt, 31.5};  // in the terms of the shot
  CHECK(report::remedyWords(shot, Units::inch) == "with a lens of 32 mm equivalent or longer");
}

TEST_CASE("what is sharp, in the photographer's terms") {
  check::ShotCheck shot = made_up::shot();
  shot.shot.people.resize(2);
  CHECK(report::focusWords(shot, Units::inch) ==
        "eyes sharp from 12 ft 3 in to 13 ft 1 in; a point of the wall spreads to 7/16 in");
  CHECK(report::focusWords(shot, Units::centimetre) ==
        "eyes sharp from 3.73 m to 3.99 m; a point of the wall spreads to 1.1 cm");
  CHECK(report::focusWords(shot, Units::millimetre) ==
        "eyes sharp from 3.73 m to 3.99 m; a point of the wall spreads to 11 mm");
  CHECK(report::unsharpWords(shot, Units::inch).empty());
  shot.focus.unsharp = {{1, 4343.4}};
  CHECK(report::unsharpWords(shot, Units::inch) == "the eyes of person 2, 14 ft 3 in away, are not sharp");
  shot.focus.unsharp = {{1, 4343.4}, {4, 4572}};
  CHECK(report::unsharpWords(shot, Units::inch) ==
        "the eyes of person 2, 14 ft 3 in away; person 5, 15 ft away, are not sharp");
  shot.focus.unsharp.resize(7, {0, 3048});
  CHECK(report::unsharpWords(shot, Units::inch) ==
        "the eyes of person 2, 14 ft 3 in away; person 5, 15 ft away; person 1, 10 ft away; person 1, 10 ft "
        "away and 3 more are not sharp");
  CHECK(holds(tableOf({shot}), "  Focus      eyes sharp from 12 ft 3 in to 13 ft 1 in;"));
}

TEST_CASE("what is sharp at its limits") {
  check::ShotCheck shot = made_up::shot();
  shot.focus = {{1880, std::nullopt}, true, 0.01, 0.5, {}};
  CHECK(report::focusWords(shot, Units::inch) ==
        "sharp from 6 ft 2 in on; a point of the wall spreads to under 1/16 in");
  shot.focus = {{1880, 1890}, true, 0, 0, {}};
  CHECK(report::focusWords(shot, Units::inch) == "sharp at 6 ft 2 in only; the wall is in focus");
  shot.focus = {{1880, 2000}, true, 1, 25.4 * 21 / 16, {}};
  CHECK(report::focusWords(shot, Units::inch) ==
        "sharp from 6 ft 2 in to 6 ft 7 in; a point of the wall spreads to 1 5/16 in");
  shot.focus = {{1880, 2000}, true, 1, 25.4 * 20 / 16, {}};
  CHECK(report::focusWords(shot, Units::inch) ==
        "sharp from 6 ft 2 in to 6 ft 7 in; a point of the wall spreads to 1 1/4 in");
  shot.focus = {};
  CHECK(report::focusWords(shot, Units::inch).empty());
}

TEST_CASE("how the picture is looked at is said, also where the plan doesn't") {
  check::ShotCheck shot = made_up::shot();
  CHECK(
      holds(tableOf({shot}),
            "  Looked at  a print in the hand (the plan doesn't say), 8 in x 10 in, seen from 13 1/8 in\n"));
  shot.shot.looked_at = plan::LookedAt{"print 8x10", {}, {}};
  CHECK(report::viewingWords(shot, Units::centimetre) == "print 8x10, 20.3 cm x 25.4 cm, seen from 33.3 cm");
  shot.shot.looked_at = plan::LookedAt{"phone", {}, {}};
  shot.viewing = {71, 300};
  CHECK(report::viewingWords(shot, Units::millimetre) == "a phone, 71 mm x 89 mm, seen from 300 mm");
  shot.shot.looked_at = plan::LookedAt{"album", {}, {}};
  CHECK(holds(report::viewingWords(shot, Units::inch), "an album's page, "));
  shot.shot.looked_at = plan::LookedAt{"", {8}, {13}};
  shot.viewing = {203.2, 330.2};
  CHECK(report::viewingWords(shot, Units::inch) == "8 in x 10 in, seen from 13 in");
}

TEST_CASE("of a zoom the end that counts is said") {
  check::ShotCheck shot = made_up::shot();
  CHECK(report::lensWords(shot) == "85 mm at f/4");
  shot.shot.lens = {70, false, 200};
  shot.lens = {200, false};
  CHECK(report::lensWords(shot) == "200 mm, the worse end of 70-200 mm, at f/4");
  shot.shot.lens = {24, true, 77};
  shot.lens = {24, true};
  CHECK(report::lensWords(shot) == "24 mm equivalent, the worse end of 24-77 mm, at f/4");
}

TEST_CASE("worst places: in most shots first, then widest; a shot counts once") {
  check::ShotCheck first = made_up::shot("a");
  check::ShotCheck second = made_up::shot("b");
  first.found.gaps = {made_up::gap(1, panel, {0, 0}, 9, 30), made_up::gap(2, panel, {90, 0}, 9, 30),
                      made_up::gap(3, crossing, {0, 0}, 9, 5), made_up::gap(4, level_seam, {0, 0}, 9, 2)};
  second.found.gaps = {made_up::gap(1, crossing, {0, 0}, 9, 6), made_up::gap(2, upright_seam, {0, 0}, 9, 31)};
  const std::vector<report::WorstPlace> places = report::worstPlaces(made_up::check({first, second}));
  REQUIRE(places.size() == 3);
  CHECK(places[0].owner == crossing);
  CHECK(places[0].shots == 2);
  CHECK(places[0].widest_mm == 6);
  CHECK(places[0].area_mm2 == doctest::Approx(45 + 54));
  CHECK(places[1].owner == upright_seam);
  CHECK(places[2].owner == panel);
  CHECK(places[2].shots == 1);
}

check::Check goldenCheck() {
  check::ShotCheck couple = made_up::shot();
  couple.off = {88.9, 0.0, 50.8, 0.0};
  couple.shot.people.resize(2);
  couple.remedy = {12.5 * 304.8, 105};
  couple.warnings = {"the camera stands farther out than the free floor"};
  couple.found.specks = {31, 12};
  couple.found.gaps = {made_up::gap(1, crossing, {508.8, 407.2}, 40, 22), exampleGap(),
                       made_up::gap(4, panel, {800, 100}, 20, 9), made_up::gap(5, panel, {840, 100}, 20, 7),
                       made_up::gap(6, panel, {700, 20}, 20, 1.5)};
  couple.found.gaps[2].behind_people = true;
  couple.readings = {made_up::reading(reading::Reads::shows, 0.987, 31.26, 900),
                     made_up::reading(reading::Reads::faint, 0.8, 3.1, 500),
                     made_up::reading(reading::Reads::shows, 0.91, 9.96, 100),
                     made_up::reading(reading::Reads::faint, 0.85, 2.5, 80),
                     made_up::reading(reading::Reads::lost, 0.2, 1.2, 10)};
  couple.pieces = made_up::somePieces();
  check::ShotCheck group = made_up::shot("group");
  group.shot.label.clear();
  group.shot.upright = false;
  group.found.gaps = {made_up::gap(1, crossing, {508.8, 407.2}, 40, 18)};
  return made_up::check({couple, group, made_up::shot("clean")});
}

TEST_CASE("the table is byte for byte the one kept in the repository") {
  const std::string table = report::checkTable(goldenCheck(), made_up::plan(), made_up::scene());
  CHECK(table == made_up::readTestFile("table.txt"));
}

TEST_CASE("no line of the table is longer than 100 characters") {
  check::Check check = goldenCheck();
  check.shots[0].warnings = {std::string(60, 'x') + " " + std::string(60, 'y')};
  std::istringstream table(report::checkTable(check, made_up::plan(), made_up::scene()));
  for (std::string line; std::getline(table, line);) {
    CAPTURE(line);
    CHECK(report::widthOf(line) <= 100);
  }
}

TEST_CASE("text from a plan can't steer the terminal") {
  CHECK(report::onOneLine("a\x1b[2Jb\nc\xC3\xA9") == "a [2Jb c\xC3\xA9");
}

}  // namespace
}  // namespace petalproof
