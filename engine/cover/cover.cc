#include "engine/cover/cover.h"

#include "engine/cover/internal/cover_search.h"

#include <algorithm>

namespace petalproof::cover {
namespace {

// Marks the elements of all sets that fit alone: the others can't be covered.
std::vector<char> coverable(const CoverProblem& problem) {
  std::vector<char> needed(problem.elements, 0);
  const CoverState empty(problem, needed);
  for (std::uint32_t set = 0; set < problem.sets.size(); ++set)
    if (empty.fitsAlone(set))
      for (const std::uint32_t element : problem.sets[set].covers) needed[element] = 1;
  return needed;
}

std::vector<char> coveredBy(const CoverProblem& problem, const std::vector<std::uint32_t>& chosen) {
  std::vector<char> covered(problem.elements, 0);
  for (const std::uint32_t set : chosen)
    for (const std::uint32_t element : problem.sets[set].covers) covered[element] = 1;
  return covered;
}

CoverResult resultOf(const CoverProblem& problem, std::vector<std::uint32_t> chosen) {
  CoverResult result;
  std::sort(chosen.begin(), chosen.end());
  const std::vector<char> covered = coveredBy(problem, chosen);
  for (std::uint32_t element = 0; element < problem.elements; ++element)
    if (covered[element] == 0) result.uncovered.push_back(element);
  result.chosen = std::move(chosen);
  return result;
}

}  // namespace

CoverResult coverSets(const CoverProblem& problem, const CoverOptions& options) {
  CoverSearch search(problem, coverable(problem), options.start, options);
  // At most half of the moves cover more; elements that are uncovered then are given up.
  const std::uint64_t made = search.coverMore(options.moves / 2);
  if (search.coversAll()) {
    search.lighten(options.moves - made);
    return resultOf(problem, search.best());
  }
  CoverSearch lighter(problem, coveredBy(problem, search.best()), search.best(), options);
  lighter.lighten(options.moves - made);
  return resultOf(problem, lighter.best());
}

}  // namespace petalproof::cover
