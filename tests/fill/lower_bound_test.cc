// How many fillers any placement needs, and what that is made of.

#include "engine/fill/internal/lower_bound.h"

#include "engine/base/stopping.h"
#include "engine/base/units.h"
#include "engine/candidates/candidates.h"
#include "engine/candidates/footprint.h"
#include "engine/cover/packing.h"

#include "tests/cover/cover_instances.h"
#include "tests/cover/exact_cover.h"
#include "tests/fill/bare_wall.h"
#include "tests/fill/random_plans.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::cover;
using namespace petalproof::candidates;
using namespace petalproof::fill;

namespace {

double sumOf(const std::vector<double>& weights) {
  return std::accumulate(weights.begin(), weights.end(), 0.0);
}

// A ring of items, each two neighbours a group.
PackingProblem ringOf(std::uint32_t items) {
  PackingProblem ring{items, {}};
  for (std::uint32_t k = 0; k < items; ++k) ring.groups.push_back({k, (k + 1) % items});
  return ring;
}

PackingProblem packingOf(const CoverProblem& cover) {
  PackingProblem packing{cover.elements, {}};
  for (const CoverSet& set : cover.sets) packing.groups.push_back(set.covers);
  return packing;
}

// Of a problem of a few sets, by looking at every choice of them.
int fewestByTrying(const CoverProblem& cover) {
  std::vector<std::uint32_t> covers;
  for (const CoverSet& set : cover.sets) {
    std::uint32_t bits = 0;
    for (const std::uint32_t element : set.covers) bits |= 1U << element;
    covers.push_back(bits);
  }
  int fewest = static_cast<int>(cover.sets.size());
  for (std::uint32_t choice = 0; choice < 1U << covers.size(); ++choice) {
    std::uint32_t covered = 0;
    for (std::size_t k = 0; k < covers.size(); ++k)
      if ((choice >> k & 1U) != 0) covered |= covers[k];
    if (covered == (1U << cover.elements) - 1) fewest = std::min(fewest, __builtin_popcount(choice));
  }
  return fewest;
}

// A plan with its fillers, and places of its board that must be hidden from one eye.
struct Bound {
  LoadedPlan loaded;
  Scene scene;
  FillerMaker maker;
  PlaceGrid grid;
  Sites sites;
  MustHide all;

  explicit Bound(LoadedPlan plan)
      : loaded(std::move(plan)),
        scene(*buildScene(loaded).value),
        maker(*FillerMaker::forPlan(loaded).value),
        grid(placeGridOf(scene.panels)),
        sites(loaded.plan, scene, maker, grid) {
    Eye eye;
    eye.at = {150, 100, 900};
    eye.places = PlaceBits(0, 0, grid.x.count(), grid.y.count());
    all.eyes.push_back(std::move(eye));
  }
  Bound(const Bound&) = delete;
  void mustHide(double x, double y) { all.eyes[0].others.emplace_back(x, y); }
  int fewest(const HowNear& howNear = {}) const {
    return fewestFillers(all, {loaded.plan, scene, maker, sites, testing::allThreads(), 1, {}, {}}, howNear);
  }
};

}  // namespace

TEST_CASE("no group of a packing weighs more than 1, and all weigh as much as they can") {
  // A ring's items weigh a half each: an odd one more than the most items no two of which are neighbours.
  for (const std::uint32_t items : {4U, 7U, 31U}) {
    CAPTURE(items);
    const PackingProblem ring = ringOf(items);
    const std::vector<double> weights = heaviestPacking(ring);
    for (const double load : loadsOf(ring, weights)) CHECK(load <= 1 + 1e-12);
    CHECK(sumOf(weights) == doctest::Approx(items / 2.0).epsilon(1e-9));
    CHECK(fewestGroups(ring, weights) == static_cast<int>(items + 1) / 2);
  }
  // Every two of five: a half each is too much for none; all five: one in all.
  CHECK(sumOf(heaviestPacking({5, {{0, 1, 2, 3, 4}}})) == doctest::Approx(1).epsilon(1e-9));
  // What no group holds can't be covered and counts nothing.
  CHECK(sumOf(heaviestPacking({3, {{1}}})) == doctest::Approx(1).epsilon(1e-9));
  CHECK(heaviestPacking({2, {}}) == std::vector<double>{0, 0});
  CHECK(heaviestPacking({0, {}}).empty());
  CHECK(sumOf(fitted({2, {{0, 1}}}, {5, 3})) == doctest::Approx(1).epsilon(1e-9));
}

TEST_CASE("a packing weighs as much as GLPK's lightest cover in parts") {
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    CAPTURE(seed);
    const CoverProblem cover = randomCover(seed, 60, 90, 0.08, 1);
    const PackingProblem packing = packingOf(cover);
    const auto lightest = fractionalCover(cover);
    REQUIRE(lightest);
    const std::vector<double> weights = heaviestPacking(packing);
    for (const double load : loadsOf(packing, weights)) CHECK(load <= 1 + 1e-12);
    CHECK(sumOf(weights) == doctest::Approx(*lightest).epsilon(1e-6));
    // Wherever it starts from.
    const std::vector<double> start(packing.items, 0.1 * static_cast<double>(seed));
    CHECK(sumOf(heaviestPacking(packing, start)) == doctest::Approx(*lightest).epsilon(1e-6));
  }
}

TEST_CASE("a packing that is asked to stop ends") {
  const PackingProblem packing = packingOf(randomCover(1, 60, 90, 0.08, 1));
  std::stop_source source;
  CHECK_NOTHROW(heaviestPacking(packing, {}, source.get_token()));
  source.request_stop();
  CHECK_THROWS_AS(heaviestPacking(packing, {}, source.get_token()), Stopped);
}

TEST_CASE("no cover of a tiny problem has fewer sets than its packing says, by trying all") {
  int equal = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const CoverProblem cover = randomCover(seed, 9, 12, 0.25, 1);
    const PackingProblem packing = packingOf(cover);
    const int fewest = fewestByTrying(cover);
    const int bound = fewestGroups(packing, heaviestPacking(packing));
    CHECK(bound <= fewest);
    equal += bound == fewest ? 1 : 0;
  }
  CHECK(equal >= 50);
}

TEST_CASE("weights that are too heavy prove no more than there is, and parts are rounded one by one") {
  const PackingProblem two_rings{6, {{0, 1}, {1, 2}, {2, 0}, {3, 4}, {4, 5}, {5, 3}}};
  CHECK(fewestGroups(two_rings, heaviestPacking(two_rings)) == 4);  // one and a half each
  CHECK(fewestGroups(two_rings, std::vector<double>(6, 0.5 + 1e-8)) == 4);
  CHECK(fewestGroups(two_rings, std::vector<double>(6, 50)) == 4);
  CHECK(fewestGroups(ringOf(4), std::vector<double>(4, 0.5 + 1e-8)) == 2);  // and not three
  CHECK(fewestGroups({2, {}}, {0, 0}) == 0);
}

// Whatever a filler of a bin hides, the bin's footprint has.
TEST_CASE("a footprint holds what any filler of its bin hides") {
  CoverRandom random(5);
  for (const std::uint64_t seed : {1ULL, 2ULL, 3ULL}) {
    const LoadedPlan plan = testing::smallRandomPlan(seed);
    const FillerMaker maker = *FillerMaker::forPlan(plan).value;
    const double height_mm = buildScene(plan).value->panels.height_mm();
    for (std::size_t kind = 0; kind < maker.kinds().size(); ++kind) {
      const FillerFootprint footprint(maker.kinds()[kind], radians(maker.sway_deg()));
      int hidden = 0;
      for (int k = 0; k < 300; ++k) {
        const int level = static_cast<int>(random.unit() * turn_levels);
        const FillerBin bin{kind,
                            {random.unit() * 400, random.unit() * 300},
                            1 + 15 * random.unit(),
                            2 * pi * random.unit(),
                            level};
        const glm::dvec2 at =
            bin.middle + bin.half_mm * glm::dvec2(2 * random.unit() - 1, 2 * random.unit() - 1);
        const double turn = bin.turn + halfTurnOf(level) * (2 * random.unit() - 1);
        Candidate one{kind, {}, static_cast<int>(std::lround(turn * 180 / pi)), {}};
        if (std::abs(radians(one.turn_deg) - bin.turn) > halfTurnOf(level)) continue;
        one.site.from_corner_mm = {at.x, height_mm - at.y};
        one.site.board_mm = at;
        const glm::dvec3 eye(600 * random.unit(), 400 * random.unit(), 500 + 2000 * random.unit());
        const Silhouette seen = silhouetteOf(maker, one, eye);
        const glm::dvec2 place =
            seen.min_mm + (seen.max_mm - seen.min_mm) * glm::dvec2(random.unit(), random.unit());
        if (!hides(seen, place)) continue;
        ++hidden;
        CHECK(footprint.mayHide(bin, {place, eye}));
        // So has that of a place as near by as is near enough.
        const double near = 20 * random.unit();
        const double towards = 2 * pi * random.unit();
        CHECK(footprint.mayHide(
            bin, {place + 0.999 * near * glm::dvec2(std::cos(towards), std::sin(towards)), eye, near}));
      }
      CHECK(hidden > 20);
    }
  }
}

TEST_CASE("places that one filler hides count once, others apiece") {
  Bound near(testing::barePanel(300, 200, 60));
  CHECK(near.fewest() == 0);
  near.mustHide(100, 100);
  near.mustHide(120, 100);
  CHECK(near.fewest() == 1);  // 20 mm apart, under discs of 60 mm
  near.mustHide(240, 100);
  CHECK(near.fewest() == 2);
  near.mustHide(240, 170);
  near.mustHide(100, 30);
  CHECK(near.fewest() == 4);
}

TEST_CASE("three places, each two of which a disc hides but not all three, take two") {
  // On a circle of 33 mm about, 57 mm apart; a disc of 60 mm.
  Bound three(testing::barePanel(300, 200, 60));
  for (const double a : {0.0, 2 * pi / 3, 4 * pi / 3})
    three.mustHide(150 + 33 * std::cos(a), 100 + 33 * std::sin(a));
  CHECK(three.fewest() == 2);
}

TEST_CASE("a filler near enough counts as hiding a place, and what doesn't count asks for none") {
  // 66 mm apart: no disc of 60 mm hides both, but it hides points 4 mm from each.
  Bound two(testing::barePanel(300, 200, 60));
  two.mustHide(100, 100);
  two.mustHide(166, 100);
  CHECK(two.fewest() == 2);
  const auto within = [](double mm) { return [mm](std::uint32_t, glm::dvec2) { return std::optional(mm); }; };
  CHECK(two.fewest(within(1)) == 2);
  CHECK(two.fewest(within(4)) == 1);
  CHECK(two.fewest([](std::uint32_t, glm::dvec2 place) {
    return place.x < 120 ? std::optional(0.0) : std::nullopt;
  }) == 1);
  CHECK(two.fewest([](std::uint32_t, glm::dvec2) { return std::optional<double>(); }) == 0);
}

TEST_CASE("holes far from each other take as many as each of them takes") {
  // Each of three places no two of which are hidden by less than one disc, and all by no fewer than two.
  Bound walls(testing::barePanel(900, 200, 60));
  for (int hole = 0; hole < 5; ++hole) {
    for (const double a : {0.0, 2 * pi / 3, 4 * pi / 3})
      walls.mustHide(100 + 170 * hole + 33 * std::cos(a), 100 + 33 * std::sin(a));
    CHECK(walls.fewest() == 2 * (hole + 1));
  }
}
