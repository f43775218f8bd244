#include "engine/check/check.h"

#include "engine/base/stopping.h"
#include "tests/check/simple_walls.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::visibility;
using namespace petalproof::gaps;
using namespace petalproof::reading;
using namespace petalproof::check;

namespace {

constexpr double pi_ = 3.14159265358979323846;

// A disc at a random place, of a random size, at a random height.
void addRandomDisc(SimpleWall& wall, std::mt19937& random) {
  const auto upTo = [&](double most) { return most * (static_cast<double>(random()) / 4294967296.0); };
  const double x = upTo(wall.scene.panels.width_mm());
  const double y = upTo(wall.scene.panels.height_mm());
  const double radius = 30 + upTo(150);
  addDisc(wall.scene, {x, y}, radius, 1 + upTo(120));
}

double bareInShot(const ShotCheck& shot) {
  double sum = shot.found.specks.area_mm2;
  for (const Gap& gap : shot.found.gaps) sum += gap.area_mm2;
  return sum;
}

bool sameGap(const Gap& a, const Gap& b) {
  return a.number == b.number && a.owner == b.owner && a.centre_mm == b.centre_mm &&
         a.area_mm2 == b.area_mm2 && a.width_mm == b.width_mm && a.length_mm == b.length_mm &&
         a.pixels == b.pixels && a.behind_people == b.behind_people && a.outline_mm == b.outline_mm &&
         a.runs == b.runs;
}

bool sameShares(const PictureShares& a, const PictureShares& b) {
  return a.bloom == b.bloom && a.board == b.board && a.seam == b.seam && a.behind == b.behind &&
         a.off == b.off && a.people == b.people;
}

bool sameCheck(const Check& a, const Check& b) {
  return a.bare.shots == b.bare.shots && a.warnings == b.warnings &&
         std::equal(a.shots.begin(), a.shots.end(), b.shots.begin(), b.shots.end(),
                    [](const ShotCheck& p, const ShotCheck& q) {
                      return sameShares(p.shares, q.shares) && p.found.specks.count == q.found.specks.count &&
                             p.found.specks.area_mm2 == q.found.specks.area_mm2 && p.warnings == q.warnings &&
                             std::equal(p.found.gaps.begin(), p.found.gaps.end(), q.found.gaps.begin(),
                                        q.found.gaps.end(), sameGap);
                    });
}

}  // namespace

TEST_CASE("a bare panel that fills the frame is one gap, as large as the frame") {
  SimpleWall wall = simpleWall(1, 1, 2000, 1500, 0);
  wall.loaded.plan.shots = {facingShot(wall, "front", 2000, 50, 1)};  // 1440 x 960
  const Check check = checked(wall);
  REQUIRE(check.shots.size() == 1);
  const ShotCheck& shot = check.shots[0];
  CHECK(shot.shares.board == 1);
  CHECK(shot.shares.bloom == 0);
  CHECK_FALSE(shot.off.any());
  REQUIRE(shot.found.gaps.size() == 1);
  CHECK(shot.found.gaps[0].area_mm2 == doctest::Approx(1440 * 960).epsilon(1e-3));
  CHECK(nameOf(shot.found.gaps[0].owner) == "A1");
  CHECK(check.bare.bare_mm2() == doctest::Approx(1440 * 960).epsilon(1e-3));
  CHECK(check.warnings.empty());
}

TEST_CASE("a disc before the board hides as much as its shadow") {
  // At 100 in front of the board, seen from 2000 away, a disc hides (2000 / 1900)^2 of its area.
  SimpleWall wall = simpleWall(1, 1, 2000, 1500, 0);
  wall.loaded.plan.shots = {facingShot(wall, "front", 2000, 50, 4)};
  addDisc(wall.scene, {1000, 750}, 300, 100);
  const Check check = checked(wall);
  const double hidden = pi_ * 300 * 300 * std::pow(2000 / 1900.0, 2);
  CHECK(check.shots[0].shares.bloom == doctest::Approx(hidden / (1440 * 960)).epsilon(0.002));
  REQUIRE(check.shots[0].found.gaps.size() == 1);
  CHECK(check.shots[0].found.gaps[0].area_mm2 == doctest::Approx(1440 * 960 - hidden).epsilon(0.002));
  CHECK(check.bare.bare_mm2() == doctest::Approx(1440 * 960 - hidden).epsilon(0.002));
}

TEST_CASE("on covered ground an open seam is the only gap, and a disc hides its part of it") {
  SimpleWall wall = simpleWall(2, 1, 800, 1000, 4);
  wall.scene.panels.ground_covered = true;
  Shot shot = facingShot(wall, "front", 2000, 50, 6);  // 960 high: the seam's ends aren't in the frame
  wall.loaded.plan.shots = {shot};
  const Check bare = checked(wall);
  REQUIRE(bare.shots[0].found.gaps.size() == 1);
  const Gap& seam = bare.shots[0].found.gaps[0];
  CHECK(nameOf(seam.owner) == "A1|B1");
  const double pixel = 36.0 * 2000 / 50 / bare.shots[0].camera.width_px;
  CHECK(std::abs(seam.width_mm - 4) < pixel);
  CHECK(std::abs(seam.length_mm - 960) < pixel);
  CHECK(std::abs(seam.area_mm2 - 4 * 960) < pixel * 960);
  CHECK(bare.shots[0].shares.seam == doctest::Approx(seam.area_mm2 / (1440 * 960)));

  addDisc(wall.scene, {802, 500}, 100, 0.5);
  const Check hidden = checked(wall);
  CHECK(hidden.shots[0].found.gaps.size() == 2);
  CHECK(bareInShot(hidden.shots[0]) == doctest::Approx(bareInShot(bare.shots[0]) * 760 / 960).epsilon(0.01));
  addDisc(wall.scene, {802, 500}, 600, 0.5);
  CHECK(checked(wall).shots[0].found.gaps.empty());
}

TEST_CASE("a seam behind the edge of a bloom shows from one side only") {
  // A disc 60 in front of the board, its edge 20 right of the seam: seen from far right its shadow moves to
  // the left and bares the seam.
  SimpleWall wall = simpleWall(2, 1, 800, 1000, 2);
  addDisc(wall.scene, {801 - 180, 500}, 200, 60);
  Shot left = facingShot(wall, "left", 1000, 50, 6);
  left.camera_right = {1000};
  left.name = "right";
  Shot right = facingShot(wall, "left", 1000, 50, 6);
  right.camera_right = {-1000};
  wall.scene.panels.ground_covered = true;
  wall.loaded.plan.shots = {left, right};
  const Check check = checked(wall);
  const auto bareAtMiddle = [&](const ShotCheck& shot) {
    return std::any_of(shot.found.gaps.begin(), shot.found.gaps.end(), [](const Gap& gap) {
      double low = 1e9;
      double high = -1e9;
      for (const glm::dvec2& p : gap.outline_mm) {
        low = std::min(low, p.y);
        high = std::max(high, p.y);
      }
      return low < 500 && high > 500;
    });
  };
  CHECK(bareAtMiddle(check.shots[0]));
  CHECK_FALSE(bareAtMiddle(check.shots[1]));
}

TEST_CASE("the check is the same for any number of threads") {
  SimpleWall wall = simpleWall(4, 3, 500, 400, 3);
  std::mt19937 random(11);
  for (int k = 0; k < 60; ++k) addRandomDisc(wall, random);
  Shot group = facingShot(wall, "group", 2600, 35, 3);
  group.people = {{Length{1700}, Length{-200}, Length{900}}, {Length{1600}, Length{300}, Length{900}}};
  Shot side = facingShot(wall, "side", 1200, 35, 3);
  side.camera_right = {1500};
  wall.loaded.plan.shots = {group, side};
  const Check one = checked(wall, {}, Pool(1));
  CHECK(one.shots[0].found.gaps.size() + one.shots[1].found.gaps.size() > 20);
  for (const int threads : {2, 7, 0}) CHECK(sameCheck(one, checked(wall, {}, Pool(threads))));
}

TEST_CASE("a check that is asked to stop ends by throwing Stopped, and its checker goes on") {
  SimpleWall wall = simpleWall(2, 2, 500, 400, 3);
  std::mt19937 random(12);
  for (int k = 0; k < 12; ++k) addRandomDisc(wall, random);
  wall.loaded.plan.shots = {facingShot(wall, "front", 1600, 35, 1), facingShot(wall, "near", 900, 35, 1)};
  const Pool pool(2);
  ShotChecker checker(wall.loaded, wall.scene, pool);
  const Result<Check> whole = runCheck(wall.loaded, wall.scene, pool);
  REQUIRE(whole);
  for (int after = 1; after <= 7; ++after) {
    CAPTURE(after);
    std::stop_source source;
    int steps = 0;
    CheckOptions options;
    options.stop = source.get_token();
    options.progress = [&](double, const std::string&) {
      if (++steps == after) source.request_stop();
    };
    CHECK_THROWS_AS(runCheck(wall.loaded, wall.scene, options, checker), Stopped);
    CHECK(steps == after);
    const Result<Check> again = runCheck(wall.loaded, wall.scene, {}, checker);
    REQUIRE(again);
    CHECK(sameCheck(*again.value, *whole.value));
  }
}

TEST_CASE("another bloom never adds bare board") {
  for (unsigned seed = 1; seed <= 5; ++seed) {
    CAPTURE(seed);
    std::mt19937 random(seed);
    SimpleWall wall = simpleWall(2, 2, 600, 500, 2);
    Shot side = facingShot(wall, "side", 1200, 35, 0.5);
    side.camera_right = {900};
    wall.loaded.plan.shots = {facingShot(wall, "front", 1800, 50, 0.5), side};
    Check before = checked(wall);
    for (int k = 0; k < 12; ++k) {
      addRandomDisc(wall, random);
      Check after = checked(wall);
      CHECK(after.bare.bare_mm2() <= before.bare.bare_mm2());
      for (std::size_t n = 0; n < 2; ++n) {
        CHECK(bareInShot(after.shots[n]) <= bareInShot(before.shots[n]) * (1 + 1e-12));
        CHECK(after.shots[n].shares.board + after.shots[n].shares.seam <=
              before.shots[n].shares.board + before.shots[n].shares.seam);
      }
      before = std::move(after);
    }
  }
}

TEST_CASE("places bare in several shots count once") {
  SimpleWall wall = simpleWall(1, 1, 2000, 1500, 0);
  wall.loaded.plan.shots = {facingShot(wall, "first", 2000, 50, 1), facingShot(wall, "second", 2000, 50, 1)};
  CHECK(checked(wall).bare.bare_mm2() == doctest::Approx(1440 * 960).epsilon(1e-3));
}

TEST_CASE("a gap behind people is told, and still found") {
  SimpleWall wall = simpleWall(1, 1, 2000, 2000, 0);
  addDisc(wall.scene, {300, 1000}, 900, 1);
  addDisc(wall.scene, {1700, 1000}, 600, 1);
  Shot shot = facingShot(wall, "couple", 4000, 85, 2);
  shot.people = {{Length{1700}, Length{0}, Length{400}}};
  wall.loaded.plan.shots = {shot};
  const ShotCheck with = checked(wall).shots[0];
  wall.loaded.plan.shots[0].people.clear();
  const ShotCheck without = checked(wall).shots[0];
  CHECK(with.shares.people > 0);
  CHECK(without.shares.people == 0);
  CHECK(with.shares.board == without.shares.board);
  REQUIRE(with.found.gaps.size() == without.found.gaps.size());
  for (std::size_t k = 0; k < with.found.gaps.size(); ++k)
    CHECK(with.found.gaps[k].area_mm2 == without.found.gaps[k].area_mm2);
}

TEST_CASE("an unknown shot is a problem with the nearest name") {
  SimpleWall wall = simpleWall(1, 1, 2000, 1500, 0);
  wall.loaded.plan.shots = {facingShot(wall, "couple", 2000, 50, 1), facingShot(wall, "group", 2000, 50, 1)};
  CheckOptions options;
  options.shots = {"coupel", "group", "zzz"};
  const Result<Check> result = runCheck(wall.loaded, wall.scene, testing::allThreads(), options);
  REQUIRE_FALSE(result);
  REQUIRE(result.problems.size() == 2);
  CHECK(toString(result.problems[0]) == "wall.toml: there is no shot \"coupel\", did you mean \"couple\"?");
  CHECK(toString(result.problems[1]) == "wall.toml: there is no shot \"zzz\"");
}

TEST_CASE("cameras that can't be are all listed with their places") {
  SimpleWall wall = simpleWall(1, 1, 2000, 1500, 0);
  Shot behind = facingShot(wall, "behind", -100, 50, 1);
  Shot blind = facingShot(wall, "blind", 2000, 50, 1);
  blind.camera_out = {0};
  wall.loaded.plan.shots = {facingShot(wall, "front", 2000, 50, 1), behind, blind};
  wall.loaded.places.shots = {{"wall.toml", 10, 1}, {"wall.toml", 20, 1}, {"wall.toml", 30, 1}};
  wall.loaded.places.shot_cameras = {{"wall.toml", 12, 10}, {"wall.toml", 22, 10}, {"wall.toml", 32, 10}};
  wall.loaded.places.shot_aims = {{"wall.toml", 13, 7}, {"wall.toml", 23, 7}, {"wall.toml", 33, 7}};
  const Result<Check> result = runCheck(wall.loaded, wall.scene, testing::allThreads());
  REQUIRE_FALSE(result);
  REQUIRE(result.problems.size() == 2);
  CHECK(result.problems[0].place == Place{"wall.toml", 22, 10});
  CHECK(result.problems[1].place == Place{"wall.toml", 33, 7});
  // A shot that isn't asked for isn't looked at.
  CheckOptions options;
  options.shots = {"front"};
  CHECK(runCheck(wall.loaded, wall.scene, testing::allThreads(), options));
}

TEST_CASE("shots come in the plan's order, each once") {
  SimpleWall wall = simpleWall(1, 1, 2000, 1500, 0);
  for (const char* name : {"a", "b", "c"})
    wall.loaded.plan.shots.push_back(facingShot(wall, name, 2000, 50, 0.1));
  CheckOptions options;
  options.shots = {"c", "a", "c"};
  const Check check = checked(wall, options);
  REQUIRE(check.shots.size() == 2);
  CHECK(check.shots[0].shot.name == "a");
  CHECK(check.shots[1].shot.name == "c");
}

TEST_CASE("a plan without a shot is checked with five made for it") {
  SimpleWall wall = simpleWall(4, 4, 600, 500, 1);
  std::vector<double> shares;
  std::vector<std::string> seen;
  CheckOptions options;
  options.progress = [&](double share, const std::string&) { shares.push_back(share); };
  options.on_shot = [&](const ShotCheck& shot, const VisibilityBuffer& buffer) {
    seen.push_back(shot.shot.name);
    CHECK(buffer.width_px == shot.camera.width_px);
    CHECK(buffer.ids.size() ==
          static_cast<std::size_t>(buffer.width_px) * static_cast<std::size_t>(buffer.height_px));
  };
  const Check check = checked(wall, options);
  CHECK(check.shots.size() == 5);
  CHECK(seen.size() == 5);
  REQUIRE(check.warnings.size() == 1);
  CHECK(check.warnings[0] == "the plan has no shot; it is checked with 5 made for it");
  CHECK(std::is_sorted(shares.begin(), shares.end()));
  CHECK(shares.front() == 0);
  CHECK(shares.back() == 1);
}

TEST_CASE("a camera beyond the free floor and a wall out of the picture are warned of") {
  SimpleWall wall = simpleWall(1, 1, 2000, 1500, 0);
  wall.loaded.plan.wall.room.depth = Length{1500};
  Shot beside = facingShot(wall, "beside", 1000, 50, 0.1);
  beside.camera_right = beside.aim_right = {3000};
  wall.loaded.plan.shots = {facingShot(wall, "front", 2000, 50, 0.1), beside};
  const Check check = checked(wall);
  REQUIRE(check.shots[0].warnings.size() == 1);
  CHECK(check.shots[0].warnings[0] ==
        "the camera stands 2.00 m out from the board, but the room has only 1.50 m of free floor");
  REQUIRE(check.shots[1].warnings.size() == 1);
  CHECK(check.shots[1].warnings[0] == "the wall is wholly out of the picture");
  CHECK(check.shots[1].shares.off == 1);
}

TEST_CASE("of a zoom the end with more bare wall in its gaps counts, whichever it is") {
  // Bare to the left and right of a disc of bloom: the short end sees it. A small bare middle, ringed by
  // bloom, is seen by both alike.
  SimpleWall wall = simpleWall(1, 1, 2000, 1500, 0);
  addDisc(wall.scene, {1000, 750}, 500, 1);
  Shot shot = facingShot(wall, "zoom", 2000, 50, 2);
  shot.lens.to_mm = 200;
  wall.loaded.plan.shots = {shot};
  std::size_t calls = 0;
  CheckOptions options;
  options.on_shot = [&](const ShotCheck& one, const VisibilityBuffer& seen) {
    ++calls;
    CHECK(sameShares(one.shares,
                     sharesOf(seen, testing::allThreads())));  // the buffer is that of the end that counts
  };
  const Check check = checked(wall, options);
  CHECK(calls == 1);
  REQUIRE(check.shots.size() == 1);
  CHECK((check.shots[0].shot == shot));
  CHECK(check.shots[0].lens == FocalLength{50, false});
  CHECK(check.shots[0].camera.focal_mm == 50);
  wall.loaded.plan.shots[0].lens = {50, false};
  const Check prime = checked(wall);
  CHECK(sameShares(check.shots[0].shares, prime.shots[0].shares));
  CHECK(check.bare.shots == prime.bare.shots);
  CHECK(bareInShot(check.shots[0]) == bareInShot(prime.shots[0]));
}

TEST_CASE("the long end of a zoom counts where the short one sees its seams too finely to matter") {
  // A seam of 2 mm under 1.2 mm wide specks of the short end, 24 mm: 0.3 megapixels, 671 across 3000 mm.
  SimpleWall wall = simpleWall(2, 1, 3000, 3000, 2);
  wall.scene.panels.ground_covered = true;
  Shot shot = facingShot(wall, "zoom", 4000, 24, 0.3);
  shot.lens.to_mm = 400;
  wall.loaded.plan.shots = {shot};
  const Check check = checked(wall);
  const double at_short = [&] {
    wall.loaded.plan.shots[0].lens = {24, false};
    return bareInShot(checked(wall).shots[0]);
  }();
  const double at_long = [&] {
    wall.loaded.plan.shots[0].lens = {400, false};
    return bareInShot(checked(wall).shots[0]);
  }();
  CAPTURE(at_short);
  CAPTURE(at_long);
  CHECK(check.shots[0].lens.mm == (at_long > at_short ? 400 : 24));
  CHECK(bareInShot(check.shots[0]) == std::max(at_short, at_long));
}

TEST_CASE("the frame of the other end of a zoom is warned of") {
  // A bare middle that both ends see whole; the short end also sees beyond the wall, and counts only once.
  SimpleWall wall = simpleWall(1, 1, 2000, 1500, 0);
  addDisc(wall.scene, {1000, 750}, 1500, 1);
  wall.scene.panels.has_panel = Grid<std::uint8_t>(1, 1, 1);
  Shot shot = facingShot(wall, "zoom", 4000, 50, 1);
  shot.lens.to_mm = 200;
  wall.loaded.plan.shots = {shot};
  const Check check = checked(wall);
  CHECK(check.shots[0].lens.mm == 50);  // alike: none sees a gap
  CHECK(check.shots[0].off.any());
  CHECK(check.shots[0].warnings.empty());
}

TEST_CASE("a zoom is refused if either end is") {
  SimpleWall wall = simpleWall(1, 1, 2000, 1500, 0);
  Shot shot = facingShot(wall, "zoom", 150, 50, 1);
  shot.lens.to_mm = 200;
  wall.loaded.plan.shots = {shot};
  const auto refused = runCheck(wall.loaded, wall.scene, testing::allThreads());
  REQUIRE_FALSE(refused);
  REQUIRE(refused.problems.size() == 1);
  CHECK(refused.problems[0].message ==
        "the camera stands 150 mm from the wall; no lens is sharp within its focal length, here 200 mm");
  wall.loaded.plan.shots[0].camera_out = {-5};
  CHECK(runCheck(wall.loaded, wall.scene, testing::allThreads()).problems.size() ==
        1);  // said once, not for each end
}
