// The search's covers against GLPK's optimum on the search's own candidates.

#include "engine/candidates/must_hide.h"
#include "engine/fill/internal/lower_bound.h"
#include "engine/fill/search.h"
#include "engine/gaps/bare_board.h"

#include "tests/cover/cover_instances.h"
#include "tests/cover/exact_cover.h"
#include "tests/cover/reduced_cover.h"
#include "tests/fill/random_plans.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <cstdlib>
#include <map>
#include <optional>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::visibility;
using namespace petalproof::gaps;
using namespace petalproof::check;
using namespace petalproof::cover;
using namespace petalproof::candidates;
using namespace petalproof::fill;

namespace {

struct Counts {
  int found = 0;
  int fewest = 0;
  int at_least = 0;
};

// A wall with what its gaps take.
struct Task {
  LoadedPlan loaded;
  Scene scene;
  FillerMaker maker;
  PlaceGrid grid;
  Sites sites;
  MustHide all;

  explicit Task(std::uint64_t seed)
      : loaded(testing::smallRandomPlan(seed)),
        scene(*buildScene(loaded).value),
        maker(*FillerMaker::forPlan(loaded).value),
        grid(placeGridOf(scene.panels)),
        sites(loaded.plan, scene, maker, grid),
        all(found()) {}
  Task(const Task&) = delete;

 private:
  MustHide found() const {
    MustHideCollector collector(grid, Hide::faint, loaded.plan.reading);
    CheckOptions options;
    options.on_shot = [&](const ShotCheck& shot, const VisibilityBuffer& seen) {
      collector.add(shot, bareMask(seen, scene.panels, testing::allThreads()), true);
    };
    REQUIRE(runCheck(loaded, scene, testing::allThreads(), options));
    return collector.take();
  }
};

// From one eye, everything that has to be hidden and that a candidate hides, as numbers of elements: places
// of the grid, then the others.
std::vector<std::size_t> hiddenFrom(const Task& task, const Eye& eye, const Candidate& candidate) {
  const Silhouette seen = silhouetteOf(task.maker, candidate, eye.at);
  const PlaceBits bits = placesHidden(seen, task.grid);
  std::vector<std::size_t> hidden;
  bits.forEach([&](int column, int row) {
    if (column < task.grid.x.count() && eye.places.has(column, row))
      hidden.push_back(task.grid.place(column, row));
  });
  for (std::size_t k = 0; k < eye.others.size(); ++k)
    if (hides(seen, eye.others[k])) hidden.push_back(task.grid.places() + k);
  return hidden;
}

// To hide all that the answer hides, by any of the candidates.
CoverProblem wholeProblem(const Task& task, const FillerSearch& search) {
  const std::size_t candidates = search.candidates().size();
  CoverProblem problem;
  problem.sets.resize(candidates);
  for (const Eye& eye : task.all.eyes) {
    std::map<std::size_t, std::uint32_t> elements;
    for (const std::uint32_t k : search.chosen())
      for (const std::size_t pair : hiddenFrom(task, eye, search.candidates()[k]))
        if (elements.try_emplace(pair, problem.elements).second) ++problem.elements;
    for (std::size_t k = 0; k < candidates; ++k)
      for (const std::size_t pair : hiddenFrom(task, eye, search.candidates()[k]))
        if (const auto element = elements.find(pair); element != elements.end())
          problem.sets[k].covers.push_back(element->second);
  }
  for (CoverSet& set : problem.sets) std::sort(set.covers.begin(), set.covers.end());
  return problem;
}

// The same with the rules for fillers side by side.
CoverProblem withRules(CoverProblem problem, const Task& task, const CandidatePool& candidates) {
  std::map<std::int32_t, std::uint32_t> faces;
  for (std::size_t k = 0; k < candidates.size(); ++k)
    for (const FaceHidden& face : candidates[k].takes) {
      const auto [known, fresh] =
          faces.try_emplace(face.bloom, static_cast<std::uint32_t>(problem.limits.size()));
      if (fresh) problem.limits.push_back(task.sites.faceLimit(face.bloom));
      problem.sets[k].uses.emplace_back(known->second, static_cast<double>(face.places));
    }
  problem.conflicts = candidates.conflicts();
  return problem;
}

// Without the rules first: that is often as few as were found, and quickly known.
std::optional<int> fewestOf(const CoverProblem& whole, const Task& task, const FillerSearch& search) {
  const auto without_rules = exactCover(reduced(whole), 120);
  const auto found = static_cast<double>(search.chosen().size());
  if (without_rules && without_rules->weight > found - 0.5) return static_cast<int>(found);
  const auto exact = exactCover(withFewerElements(withRules(whole, task, search.candidates())), 300);
  if (!exact) return std::nullopt;
  return static_cast<int>(exact->weight + 0.5);
}

// What the answer hides takes, by the bound.
int boundOf(const Task& task, const SearchTask& search_task, const std::vector<Candidate>& chosen) {
  return fewestFillers(task.all, search_task, [&](std::uint32_t eye, glm::dvec2 place) {
    for (const Candidate& filler : chosen)
      if (hides(silhouetteOf(task.maker, filler, task.all.eyes[eye].at), place)) return std::optional(0.0);
    return std::optional<double>();
  });
}

// GLPK is quick where not much is bare.
bool isSmall(const Task& task) { return task.all.pairs() <= 600; }

// None: GLPK takes too long.
std::optional<Counts> countsOn(const Task& task, std::uint64_t seed) {
  const SearchTask search_task{task.loaded.plan,      task.scene, task.maker, task.sites,
                               testing::allThreads(), seed,       {},         {}};
  FillerSearch search(search_task);
  Counts counts;
  const std::vector<Candidate> chosen = search.cover(task.all);
  counts.found = static_cast<int>(chosen.size());
  counts.at_least = boundOf(task, search_task, chosen);
  if (counts.found < 2) return counts;
  const CoverProblem whole = wholeProblem(task, search);
  const auto fewest = fewestOf(whole, task, search);
  if (!fewest) return std::nullopt;
  counts.fewest = *fewest;
  return counts;
}

// On so many walls that need two fillers or more.
void compare(int walls, int equal_at_least) {
  const int most_too_long = std::max(1, walls / 6);
  int equal = 0;
  int compared = 0;
  int too_long = 0;
  for (std::uint64_t seed = 1; compared < walls; ++seed) {
    CAPTURE(seed);
    const Task task(seed);
    if (!isSmall(task)) continue;
    const auto counts = countsOn(task, seed);
    if (!counts) {
      REQUIRE(++too_long <= most_too_long);
      continue;
    }
    if (counts->found < 2) continue;
    ++compared;
    CHECK(counts->found >= counts->fewest);
    CHECK(counts->found <= counts->fewest + 1);
    CHECK(counts->at_least <= counts->fewest);
    CHECK(2 * counts->at_least >= counts->fewest);
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

TEST_CASE("on a few random walls the search does with hardly more than the fewest") { compare(4, 2); }

TEST_CASE("the same on thirty" * doctest::skip(std::getenv("PETALPROOF_LONG_TESTS") == nullptr)) {
  compare(30, 20);
}
