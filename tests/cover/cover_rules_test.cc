#include "engine/base/stopping.h"
#include "engine/cover/cover.h"

#include "engine/cover/internal/resource_users.h"
#include "engine/cover/random_steps.h"
#include "tests/cover/cover_instances.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>
#include <optional>

using namespace petalproof;
using namespace petalproof::cover;

namespace {

// What is left bare and the weight, of a choice that can stand.
struct Outcome {
  double left = 0;
  double weight = 0;
  friend auto operator<=>(const Outcome&, const Outcome&) = default;
};

double valueOf(const CoverProblem& problem, std::uint32_t element) {
  return problem.value.empty() ? 1 : problem.value[element];
}

std::optional<Outcome> outcomeOf(const CoverProblem& problem, const std::vector<std::uint32_t>& chosen) {
  Outcome outcome;
  std::vector<double> used(problem.limits.size(), 0);
  std::vector<char> covered(problem.elements, 0);
  for (const std::uint32_t set : chosen) {
    outcome.weight += problem.sets[set].weight;
    for (const auto& [resource, amount] : problem.sets[set].uses) used[resource] += amount;
    for (const std::uint32_t element : problem.sets[set].covers) covered[element] = 1;
    for (const std::uint32_t other : chosen)
      if (!problem.conflicts.empty() &&
          std::count(problem.conflicts[set].begin(), problem.conflicts[set].end(), other) > 0)
        return std::nullopt;
  }
  for (std::size_t i = 0; i < used.size(); ++i)
    if (used[i] > problem.limits[i]) return std::nullopt;
  for (std::uint32_t element = 0; element < problem.elements; ++element)
    if (covered[element] == 0) outcome.left += valueOf(problem, element);
  return outcome;
}

// By trying every choice.
Outcome bestOfAll(const CoverProblem& problem) {
  std::optional<Outcome> best;
  for (std::uint32_t choice = 0; choice < 1U << problem.sets.size(); ++choice) {
    std::vector<std::uint32_t> chosen;
    for (std::uint32_t set = 0; set < problem.sets.size(); ++set)
      if ((choice >> set & 1U) != 0) chosen.push_back(set);
    const auto outcome = outcomeOf(problem, chosen);
    if (outcome && (!best || *outcome < *best)) best = outcome;
  }
  return *best;
}

// Whole weights and values, two kinds in stock, some pairs that can't stand together.
CoverProblem smallProblem(std::uint64_t seed) {
  CoverRandom random(seed);
  CoverProblem problem = randomCover(seed, 6 + random.below(10), 8 + random.below(4), 0.25, 9);
  for (std::uint32_t element = 0; element < problem.elements; ++element)
    problem.value.push_back(1 + random.below(10));
  problem.value.front() = 10;  // steps of a hundred: nothing is rounded
  problem.limits = {1.0 + random.below(3), 2.0 + random.below(4)};
  for (CoverSet& set : problem.sets)
    if (random.below(3) > 0) set.uses = {{random.below(2), 1.0 + random.below(2)}};
  problem.conflicts.resize(problem.sets.size());
  for (std::uint32_t a = 0; a < problem.sets.size(); ++a)
    for (std::uint32_t b = a + 1; b < problem.sets.size(); ++b)
      if (random.below(6) == 0) {
        problem.conflicts[a].push_back(b);
        problem.conflicts[b].push_back(a);
      }
  return problem;
}

}  // namespace

TEST_CASE("limits and conflicts are kept, and most is covered, against trying every choice") {
  int equal = 0;
  constexpr int problems = 60;
  for (std::uint64_t seed = 1; seed <= problems; ++seed) {
    CAPTURE(seed);
    const CoverProblem problem = smallProblem(seed);
    CoverOptions options;
    options.moves = 4000;
    const CoverResult result = coverSets(problem, options);
    const auto found = outcomeOf(problem, result.chosen);
    REQUIRE(found.has_value());
    const Outcome best = bestOfAll(problem);
    CHECK(*found >= best);
    double left = 0;
    for (const std::uint32_t element : result.uncovered) left += valueOf(problem, element);
    CHECK(left == found->left);
    equal += *found == best ? 1 : 0;
  }
  CHECK(equal >= problems - 2);
}

TEST_CASE("with too few in stock what counts for little is left") {
  CoverProblem problem;
  problem.elements = 5;
  problem.value = {3, 1, 5, 2, 4};
  for (std::uint32_t i = 0; i < 5; ++i) problem.sets.push_back({{i}, 1, {{0, 1}}});
  problem.limits = {2};
  const CoverResult result = coverSets(problem);
  CHECK(result.chosen == std::vector<std::uint32_t>{2, 4});
  CHECK(result.uncovered == std::vector<std::uint32_t>{0, 1, 3});
}

TEST_CASE("a start that can't stand whole is taken as far as it can") {
  CoverProblem problem;
  problem.elements = 3;
  problem.sets = {{{0, 1}, 1, {}}, {{1, 2}, 1, {}}, {{2}, 1, {}}};
  problem.conflicts = {{1}, {0}, {}};
  CoverOptions options;
  options.start = {1, 0, 1};
  const CoverResult result = coverSets(problem, options);
  CHECK(result.chosen == std::vector<std::uint32_t>{0, 2});
  CHECK(result.uncovered.empty());
}

TEST_CASE("the same seed gives the same cover, and a search that is stopped none") {
  const CoverProblem problem = randomCover(7, 300, 600, 0.02, 1);
  CoverOptions options;
  options.moves = 5000;
  options.seed = 9;
  const CoverResult first = coverSets(problem, options);
  CHECK(coverSets(problem, options).chosen == first.chosen);
  std::stop_source source;
  options.stop = source.get_token();
  CHECK(coverSets(problem, options).chosen == first.chosen);
  source.request_stop();
  CHECK_THROWS_AS(coverSets(problem, options), Stopped);
}

TEST_CASE("who uses a resource is known whatever came and went") {
  RandomSteps random(17);
  CoverProblem problem;
  problem.limits.assign(5, 100);
  for (int k = 0; k < 40; ++k) {
    CoverSet set;
    for (std::uint32_t resource = 0; resource < 5; ++resource)
      if (random.below(2) == 0) set.uses.emplace_back(resource, static_cast<double>(random.below(3)));
    problem.sets.push_back(set);
  }
  ResourceUsers users(problem);
  std::vector<char> chosen(problem.sets.size(), 0);
  for (int step = 0; step < 2'000; ++step) {
    const std::uint32_t one = random.below(chosen.size());
    chosen[one] != 0 ? users.remove(one) : users.add(one);
    chosen[one] = chosen[one] != 0 ? 0 : 1;
    for (std::uint32_t resource = 0; resource < 5; ++resource) {
      std::vector<std::uint32_t> expected;  // nought of something isn't used
      for (std::uint32_t set = 0; set < chosen.size(); ++set)
        for (const auto& [used, amount] : problem.sets[set].uses)
          if (chosen[set] != 0 && used == resource && amount > 0) expected.push_back(set);
      std::vector<std::uint32_t> found = users.of(resource);
      std::sort(found.begin(), found.end());
      CHECK(found == expected);
    }
  }
}
