#include "tests/filler/reduced_cover.h"

#include <algorithm>
#include <cstdint>
#include <map>
#include <utility>
#include <vector>

namespace petalproof {
namespace {

using Numbers = std::vector<std::uint32_t>;

bool holds(const Numbers& large, const Numbers& small) {
  return std::includes(large.begin(), large.end(), small.begin(), small.end());
}

// By row the columns that have it, and back.
std::vector<Numbers> turned(const std::vector<Numbers>& rows, std::size_t columns) {
  std::vector<Numbers> other(columns);
  for (std::uint32_t row = 0; row < rows.size(); ++row)
    for (const std::uint32_t column : rows[row]) other[column].push_back(row);
  return other;
}

// Without those that hold another one whole (`smallest`) or that another one holds.
std::vector<Numbers> undominated(std::vector<Numbers> all, bool smallest) {
  std::sort(all.begin(), all.end(), [&](const Numbers& a, const Numbers& b) {
    return std::pair(smallest ? a.size() : ~a.size(), a) < std::pair(smallest ? b.size() : ~b.size(), b);
  });
  std::vector<Numbers> kept;
  for (Numbers& one : all) {
    const bool needless = one.empty() || std::any_of(kept.begin(), kept.end(), [&](const Numbers& other) {
                            return smallest ? holds(one, other) : holds(other, one);
                          });
    if (!needless) kept.push_back(std::move(one));
  }
  return kept;
}

}  // namespace

CoverProblem reduced(const CoverProblem& problem) {
  std::vector<Numbers> sets;
  for (const CoverSet& set : problem.sets) sets.push_back(set.covers);
  std::size_t elements = problem.elements;
  for (std::size_t before = 0; before != sets.size() + elements;) {
    before = sets.size() + elements;
    sets = undominated(std::move(sets), false);
    const std::vector<Numbers> rows = undominated(turned(sets, elements), true);
    elements = rows.size();
    sets = turned(rows, sets.size());
  }
  CoverProblem small;
  small.elements = static_cast<std::uint32_t>(elements);
  for (Numbers& covers : sets)
    if (!covers.empty()) small.sets.push_back({std::move(covers), 1, {}});
  return small;
}

}  // namespace petalproof
