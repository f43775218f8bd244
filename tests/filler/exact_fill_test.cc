// The search's covers against GLPK's optimum on the search's own candidates.

#include "engine/base/threads.h"
#include "engine/filler/internal/must_hide.h"
#include "engine/filler/internal/search.h"

#include "tests/filler/cover_instances.h"
#include "tests/filler/exact_cover.h"
#include "tests/filler/random_plans.h"
#include "tests/filler/reduced_cover.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cstdlib>
#include <optional>
#include <vector>

using namespace petalproof;

namespace {

struct Counts {
  int found = 0;
  int fewest = 0;  // of candidates that may stand anywhere beside each other, from any stock
};

// What all gaps of a random wall take. None: GLPK takes too long.
std::optional<Counts> countsOn(std::uint64_t seed) {
  const LoadedPlan loaded = testing::randomPlan(seed);
  const Scene scene = *buildScene(loaded).value;
  const FillerMaker maker = *FillerMaker::forPlan(loaded).value;
  const PlaceGrid grid = placeGridOf(scene.panels);
  const Sites sites(loaded.plan, scene, maker, grid);
  MustHideCollector collector(grid, Hide::faint, loaded.plan.reading);
  CheckOptions options;
  options.on_shot = [&](const ShotCheck& shot, const VisibilityBuffer& seen) {
    collector.add(shot, seen, scene.panels, true);
  };
  REQUIRE(runCheck(loaded, scene, options));
  const MustHide all = collector.take();
  FillerSearch search({loaded.plan, scene, maker, sites, seed, {}, {}});
  Counts counts;
  CoverProblem problem;
  Workers workers;
  workers.run([&] {
    counts.found = static_cast<int>(search.cover(all).size());
    problem = search.problem();
  });
  // Only what the answer hides: nothing else can be asked of the exact one.
  std::vector<char> hidden(problem.elements, 0);
  for (const std::uint32_t k : search.chosen())
    for (const std::uint32_t pair : problem.sets[k].covers) hidden[pair] = 1;
  for (CoverSet& set : problem.sets)
    std::erase_if(set.covers, [&](std::uint32_t pair) { return hidden[pair] == 0; });
  const CoverProblem small = reduced(problem);
  const auto exact = exactCover(small, 120);
  MESSAGE(fmt::format("seed {}: {} sets of {}, {} pairs of {}: {} found, {} needed", seed, small.sets.size(),
                      problem.sets.size(), small.elements, problem.elements, counts.found,
                      exact ? exact->weight : -1));
  if (!exact) return std::nullopt;
  counts.fewest = static_cast<int>(exact->weight + 0.5);
  return counts;
}

void compare(std::uint64_t from, std::uint64_t to, int equal_at_least) {
  int equal = 0;
  for (std::uint64_t seed = from; seed <= to; ++seed) {
    CAPTURE(seed);
    const auto counts = countsOn(seed);
    REQUIRE(counts);
    CHECK(counts->found >= counts->fewest);
    CHECK(counts->found <= counts->fewest + 1);
    equal += counts->found == counts->fewest ? 1 : 0;
  }
  CHECK(equal >= equal_at_least);
}

}  // namespace

TEST_CASE("a reduced cover needs as many sets") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    const CoverProblem whole = randomCover(seed, 40, 80, 0.08, 1);
    const CoverProblem small = reduced(whole);
    CHECK(small.sets.size() < whole.sets.size());
    const auto fewest = exactCover(whole);
    const auto of_small = exactCover(small);
    REQUIRE(fewest);
    REQUIRE(of_small);
    CHECK(of_small->weight == fewest->weight);
  }
}

TEST_CASE("on a few random walls the search does with hardly more than the fewest") { compare(1, 3, 2); }

TEST_CASE("the same on thirty" * doctest::skip(std::getenv("PETALPROOF_LONG_TESTS") == nullptr)) {
  compare(1, 30, 20);
}
