#include "engine/advice/advice.h"
#include "engine/camera/projection.h"

#include "engine/advice/internal/board_colours.h"
#include "engine/advice/internal/shot_changes.h"
#include "engine/camera/focus.h"
#include "engine/camera/framing.h"
#include "engine/plan/default_shots.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::reading;
using namespace petalproof::check;
using namespace petalproof::advice;
using doctest::Approx;

namespace {

// A wall of 6 x 3 m, in inches: room for a frame to move on.
Plan widePlan(Units units = Units::inch) {
  Plan plan;
  plan.units = units;
  const double mm = 1 / millimetresPer(units);
  plan.wall.columns = 6;
  plan.wall.rows = 3;
  plan.wall.panel = {{1000 * mm}, {1000 * mm}};
  plan.wall.grid = Grid<Cell>(6, 3, Cell{"sun", false});
  Bloom rose;
  rose.name = "rose";
  rose.label = "Rust rose";
  rose.diameter = {300 * mm};
  rose.colours = {{0xb5, 0x38, 0x2a}};
  Bloom leaf;
  leaf.name = "leaf";
  leaf.diameter = {200 * mm};
  leaf.colours = {{0x5c, 0x8a, 0x4a}, {0x5d, 0x8b, 0x4b}};
  Bloom unused = rose;
  unused.name = "unused";
  unused.colours = {{0x20, 0x40, 0xc0}};
  plan.blooms = {rose, leaf, unused};
  plan.layouts = {{"sun", {{"rose", {}, 0, {}, {}}, {"leaf", {}, 0, {}, {}}}}};
  return plan;
}

// Two people 1.2 m before the board, three-quarter, on a wide wall.
Shot couple(Units units = Units::inch) {
  const double mm = 1 / millimetresPer(units);
  Shot shot;
  shot.name = "couple";
  shot.sensor = {"full frame", 36, 24};
  shot.upright = true;
  shot.lens = {85, false};
  shot.aperture = 5.6;
  shot.camera_above_floor = {1400 * mm};
  shot.camera_out = {4200 * mm};
  shot.aim_above_floor = {1300 * mm};
  shot.people = {{{1680 * mm}, {-200 * mm}, {1200 * mm}}, {{1780 * mm}, {200 * mm}, {1200 * mm}}};
  return shot;
}

double mmOf(Length length, const Plan& plan) { return toMillimetres(length, plan); }

std::vector<Reads> readGaps(int shows, int faint = 0, int lost = 0) {
  std::vector<Reads> all(static_cast<std::size_t>(shows), Reads::shows);
  all.insert(all.end(), static_cast<std::size_t>(faint), Reads::faint);
  all.insert(all.end(), static_cast<std::size_t>(lost), Reads::lost);
  return all;
}

Advice adviceFor(const Plan& plan, const std::vector<Shot>& shots, const ShotReader& read) {
  const SceneColours colours{plan.wall.board.colour, {}, {}, {}};
  AdviceTask task{plan, colours, {}};
  for (const Shot& shot : shots) task.shots.push_back({shot, read(shot, colours)});
  return adviseOn(task, read);
}

// Where people's eyes are in the picture, in shares of its width.
std::vector<glm::dvec2> eyesInPicture(const Shot& shot, const WallFrame& wall) {
  const Camera camera = makeCamera(shot, wall).value.value();
  std::vector<glm::dvec2> places;
  for (const WallPoint& eyes : eyesOf(shot, wall))
    places.push_back(project(camera, eyes).value().px / static_cast<double>(camera.width_px));
  return places;
}

// Of an upright full frame.
bool isInPicture(glm::dvec2 place) { return place.x >= 0 && place.x <= 1 && place.y >= 0 && place.y <= 1.5; }

}  // namespace

TEST_CASE("people a step farther from the wall is the first advice, and moves the camera with them") {
  const Plan plan = widePlan();
  const double from = mmOf(couple().people[0].out_from_board, plan);
  int read = 0;
  const Advice advice = adviceFor(plan, {couple()}, [&](const Shot& shot, const SceneColours&) {
    ++read;
    const double moved = mmOf(shot.people[0].out_from_board, plan) - from;
    return SeenShot{readGaps(moved > 500 ? 0 : 4, 2), 0.4};
  });
  CHECK(advice.now == ReadingCounts{4, 2, 0});
  REQUIRE(advice.shots.size() == 1);
  CHECK(advice.shots[0].shot == "couple");
  CHECK(advice.shots[0].now == ReadingCounts{4, 2, 0});
  REQUIRE(advice.shots[0].remedy);
  CHECK_FALSE(advice.shots[0].best);
  const TriedChange& remedy = *advice.shots[0].remedy;
  CHECK(remedy.change.kind == ChangeKind::people);
  CHECK(remedy.change.amount == Approx(2 * 304.8));
  CHECK(remedy.counts == ReadingCounts{0, 2, 0});
  CHECK(mmOf(remedy.change.shot.camera_out, plan) == Approx(4200 + 2 * 304.8));
  CHECK(mmOf(remedy.change.shot.people[1].out_from_board, plan) == Approx(1200 + 2 * 304.8));
  // Nothing but the wall changes in the frame.
  const WallFrame wall = wallFrameOf(plan);
  const auto before = eyesInPicture(couple(), wall);
  const auto after = eyesInPicture(remedy.change.shot, wall);
  for (std::size_t k = 0; k < before.size(); ++k) CHECK(glm::distance(before[k], after[k]) < 1e-9);
  CHECK(makeCamera(remedy.change.shot, wall).value->focus_mm ==
        Approx(makeCamera(couple(), wall).value->focus_mm));
}

TEST_CASE("what a rough look passes is confirmed at the shot's own size") {
  const Plan plan = widePlan();
  const Advice advice = adviceFor(plan, {couple()}, [&](const Shot& shot, const SceneColours&) {
    const bool rough = shot.megapixels < 24;
    const bool farther = mmOf(shot.people[0].out_from_board, plan) > 1201;
    const bool aside = std::abs(shot.camera_right.value) > 1;
    if (rough) return SeenShot{readGaps(farther || aside ? 0 : 3), 0.4};
    return SeenShot{readGaps(aside ? 0 : 3), 0.4};  // people farther doesn't help after all
  });
  REQUIRE(advice.shots.size() == 1);
  REQUIRE(advice.shots[0].remedy);
  CHECK(advice.shots[0].remedy->change.kind == ChangeKind::side);
  CHECK(advice.shots[0].remedy->change.shot.megapixels == 24);
}

TEST_CASE("without a remedy the best of what was tried is told, with its count at full size") {
  const Plan plan = widePlan();
  const ShotReader read = [&](const Shot& shot, const SceneColours&) {
    const int bonus = shot.megapixels < 24 ? 1 : 0;  // a rough look sees one more
    const int higher = static_cast<int>(std::lround((mmOf(shot.camera_above_floor, plan) - 1400) / 152.4));
    return SeenShot{readGaps(9 - higher + bonus), 0.4};
  };
  const Advice advice = adviceFor(plan, {couple()}, read);
  REQUIRE(advice.shots.size() == 1);
  CHECK_FALSE(advice.shots[0].remedy);
  REQUIRE(advice.shots[0].best);
  CHECK(advice.shots[0].best->change.kind == ChangeKind::height);
  CHECK(advice.shots[0].best->counts.show <= 7);
  CHECK(advice.shots[0].best->counts.show ==
        countsOf(read(advice.shots[0].best->change.shot, {}).holes).show);
  CHECK(advice.shots[0].tried > 6);
}

TEST_CASE("what helps nothing, or empties the frame of its people, is no advice") {
  const Plan plan = widePlan();
  const Advice none = adviceFor(plan, {couple()}, [](const Shot&, const SceneColours&) {
    return SeenShot{readGaps(5), 0.4};
  });
  REQUIRE(none.shots.size() == 1);
  CHECK_FALSE(none.shots[0].remedy);
  CHECK_FALSE(none.shots[0].best);
  const Advice emptied = adviceFor(plan, {couple()}, [](const Shot& shot, const SceneColours&) {
    return shot.megapixels < 24 ? SeenShot{readGaps(0), 0.3} : SeenShot{readGaps(5), 0.4};
  });
  CHECK_FALSE(emptied.shots[0].remedy);
  CHECK_FALSE(emptied.shots[0].best);
  CHECK(emptied.shots[0].tried == 0);
}

TEST_CASE("what betters the count by less than a fifth is passed over") {
  const Plan plan = widePlan();
  const auto reader = [&](int fewer) {
    return [&plan, fewer](const Shot& shot, const SceneColours&) {
      const bool higher = mmOf(shot.camera_above_floor, plan) > 1500;
      return SeenShot{readGaps(higher ? 20 - fewer : 20), 0.4};
    };
  };
  CHECK_FALSE(adviceFor(plan, {couple()}, reader(3)).shots.at(0).best);
  const Advice fifth = adviceFor(plan, {couple()}, reader(4));
  REQUIRE(fifth.shots.at(0).best);
  CHECK(fifth.shots[0].best->counts.show == 16);
}

TEST_CASE("where nothing shows there is no advice, and little is computed") {
  int read = 0;
  const Advice advice = adviceFor(widePlan(), {couple()}, [&](const Shot&, const SceneColours&) {
    ++read;
    return SeenShot{readGaps(0, 7), 0.4};
  });
  CHECK(read == 1);
  CHECK(advice.shots.empty());
  CHECK(advice.colours.empty());
  CHECK(advice.now == ReadingCounts{0, 7, 0});
}

TEST_CASE("colours of the boards: the palette's that hang, white, black and kraft, fewest showing first") {
  const Plan plan = widePlan();
  Shot clean = couple();
  clean.name = "clean";
  const ShotReader read = [&](const Shot& shot, const SceneColours& colours) {
    if (shot.name == "clean") return SeenShot{readGaps(0, 0, 2), 0.4};
    const bool is_green = colours.board == Colour{0x5c, 0x8a, 0x4a};
    const bool is_red = colours.board == Colour{0xb5, 0x38, 0x2a};
    if (is_green) return SeenShot{{Reads::lost, Reads::faint, Reads::lost, Reads::shows}, 0.4};
    if (is_red) return SeenShot{{Reads::shows, Reads::lost, Reads::shows, Reads::faint}, 0.4};
    return SeenShot{{Reads::shows, Reads::shows, Reads::shows, Reads::lost}, 0.4};
  };
  const Advice advice = adviceFor(plan, {couple(), clean}, read);
  CHECK(advice.now == ReadingCounts{3, 0, 3});
  REQUIRE(advice.colours.size() ==
          4);  // white is the board's own, both greens are one, one kind doesn't hang
  CHECK(advice.colours[0].board.name == "the green of leaf");
  CHECK(advice.colours[0].counts == ReadingCounts{1, 1, 4});
  CHECK(advice.colours[0].of_showing == ReadingCounts{0, 1, 2});
  CHECK(advice.colours[1].board.name == "the red of Rust rose");
  CHECK(advice.colours[1].counts == ReadingCounts{2, 1, 3});
  CHECK(advice.colours[1].of_showing == ReadingCounts{2, 0, 1});
  CHECK(advice.colours[2].board.name == "black");
  CHECK(advice.colours[3].board.name == "kraft brown");
  CHECK(advice.colours[3].counts == ReadingCounts{3, 0, 3});
  REQUIRE(advice.shots.size() == 1);
  CHECK(advice.shots[0].shot == "couple");
}

TEST_CASE("plain words for colours") {
  CHECK(plainColourName({0xff, 0xff, 0xff}) == "white");
  CHECK(plainColourName({0x10, 0x10, 0x10}) == "black");
  CHECK(plainColourName({0x80, 0x80, 0x80}) == "grey");
  CHECK(plainColourName({0xb5, 0x38, 0x2a}) == "red");
  CHECK(plainColourName({0x7f, 0x94, 0x70}) == "green");
  CHECK(plainColourName({0x1f, 0x33, 0x1a}) == "dark green");
  CHECK(plainColourName({0xf3, 0xe6, 0xc8}) == "cream");
  CHECK(plainColourName({0xe8, 0xa2, 0x3d}) == "orange");
  CHECK(plainColourName({0x7a, 0x4a, 0x2a}) == "brown");
  CHECK(plainColourName({0xf0, 0xb8, 0xc4}) == "pink");
  CHECK(plainColourName({0x2f, 0x4f, 0xa0}) == "blue");
  CHECK(plainColourName({0xf2, 0xd0, 0x30}) == "yellow");
}

TEST_CASE("every change keeps the people's framing, their sharpness and the frame on the wall") {
  // Measured here by projecting the eyes, apart from the code that chooses the changes.
  std::mt19937 random(3);
  const auto between = [&](double low, double high) {
    return low + (high - low) * (static_cast<double>(random()) / 4294967296.0);
  };
  std::set<ChangeKind> kinds;
  for (int k = 0; k < 60; ++k) {
    CAPTURE(k);
    const Units units = k % 2 == 0 ? Units::inch : Units::centimetre;
    const Plan plan = widePlan(units);
    const WallFrame wall = wallFrameOf(plan);
    const double mm = 1 / millimetresPer(units);
    Shot shot = couple(units);
    shot.camera_right = {between(-1500, 1500) * mm};
    shot.aim_right = {shot.camera_right.value * between(-0.4, 0.2)};
    shot.camera_above_floor = {between(1100, 1800) * mm};
    shot.aperture = between(2.8, 11);
    if (k % 3 == 0) shot.focus = Length{makeCamera(shot, wall).value->focus_mm * mm};
    if (k % 5 == 0) shot.lens.to_mm = 135;
    const double room = 6000;
    const auto changes = shotChanges(shot, {wall, Room{std::nullopt, std::nullopt, Length{room * mm}}});
    const Camera before = makeCamera(shot, wall).value.value();
    const auto eyes_before = eyesInPicture(shot, wall);
    for (const ShotChange& change : changes) {
      kinds.insert(change.kind);
      CAPTURE(static_cast<int>(change.kind));
      CAPTURE(change.amount);
      const auto camera = makeCamera(change.shot, wall);
      REQUIRE(camera);
      CHECK(mmOf(change.shot.camera_out, plan) <= room + 1e-6);
      if (change.kind != ChangeKind::lens || !shot.lens.to_mm) {
        const auto eyes = eyesInPicture(change.shot, wall);
        for (std::size_t p = 0; p < eyes.size(); ++p)
          if (isInPicture(eyes_before[p])) CHECK(glm::distance(eyes[p], eyes_before[p]) <= 0.04 + 1e-9);
        if (!isInPicture(eyes_before[0]) || !isInPicture(eyes_before[1])) continue;
        const double apart = glm::distance(eyes[0], eyes[1]) / glm::distance(eyes_before[0], eyes_before[1]);
        CHECK(apart == Approx(1).epsilon(0.2));
      }
      if (focusOf(before, shot, wall).unsharp.empty())
        CHECK(focusOf(*camera.value, change.shot, wall).unsharp.empty());
      const OffWall off_before = offWall(before, wall);
      const OffWall off = offWall(*camera.value, wall);
      CHECK(off.left_mm.value_or(1e9) <= off_before.left_mm.value_or(1e9) + 0.02);
      CHECK(off.bottom_mm.value_or(1e9) <= off_before.bottom_mm.value_or(1e9) + 0.02);
    }
    CHECK(std::is_sorted(changes.begin(), changes.end(),
                         [](const ShotChange& a, const ShotChange& b) { return a.kind < b.kind; }));
  }
  CHECK(kinds.size() == 6);  // of each kind some
}

TEST_CASE("a whole wall without people keeps its size, a phone its lens and stop") {
  const Plan plan = widePlan();
  const std::vector<Shot> shots = defaultShots(plan);
  const WallFrame wall = wallFrameOf(plan);
  for (const Shot& shot : shots) {
    CAPTURE(shot.name);
    for (const ShotChange& change : shotChanges(shot, {wall, {}})) {
      if (shot.people.empty()) CHECK(change.kind != ChangeKind::people);
      if (shot.sensor.name != "phone") continue;
      CHECK(change.kind != ChangeKind::lens);
      CHECK(change.kind != ChangeKind::stop);
    }
  }
}

TEST_CASE("a focus that the plan gives follows the people") {
  const Plan plan = widePlan();
  const WallFrame wall = wallFrameOf(plan);
  Shot shot = couple();
  shot.focus = Length{(makeCamera(shot, wall).value->focus_mm + 50) / 25.4};
  bool any = false;
  for (const ShotChange& change : shotChanges(shot, {wall, {}})) {
    if (change.kind != ChangeKind::lens) continue;
    any = true;
    Shot automatic = change.shot;
    automatic.focus.reset();
    const double nearest = makeCamera(automatic, wall).value->focus_mm;
    CHECK(mmOf(change.shot.focus.value(), plan) == Approx(nearest + 50).epsilon(0.001));
  }
  CHECK(any);
}
