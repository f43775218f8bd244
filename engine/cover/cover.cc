#include "engine/cover/cover.h"

#include "engine/cover/internal/cover_search.h"

#include <algorithm>

namespace petalproof::cover {
namespace {

// Elements that a set which can stand covers.
std::vector<char> coverable(const CoverProblem& problem) {
  std::vector<char> needed(problem.elements, 0);
  const CoverState nothing(problem, needed);
  for (std::uint32_t set = 0; set < problem.sets.size(); ++set)
    if (nothing.fitsAlone(set))
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
  CoverSearch all(problem, coverable(problem), options.start, options);
  // Half of the moves for covering more, where that isn't settled at once; what must stay bare then is left
  // aside.
  const std::uint64_t made = all.coverMore(options.moves / 2);
  if (all.coversAll()) {
    all.lighten(options.moves - made);
    return resultOf(problem, all.best());
  }
  CoverSearch rest(problem, coveredBy(problem, all.best()), all.best(), options);
  rest.lighten(options.moves - made);
  return resultOf(problem, rest.best());
}

}  // namespace petalproof::cover
