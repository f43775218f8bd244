#include "tests/cover/reduced_cover.h"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace petalproof {
namespace {

// Numbers below a bound, a bit each.
using Bits = std::vector<std::uint64_t>;

void add(Bits& bits, std::size_t number) { bits[number / 64] |= std::uint64_t{1} << number % 64; }
bool has(const Bits& bits, std::size_t number) { return (bits[number / 64] >> number % 64 & 1) != 0; }

bool holds(const Bits& large, const Bits& small) {
  for (std::size_t k = 0; k < small.size(); ++k)
    if ((small[k] & ~large[k]) != 0) return false;
  return true;
}

int countOf(const Bits& bits) {
  int count = 0;
  for (const std::uint64_t word : bits) count += __builtin_popcountll(word);
  return count;
}

// By row the columns that have it, and back.
std::vector<Bits> turned(const std::vector<Bits>& rows, std::size_t columns) {
  std::vector<Bits> other(columns, Bits((rows.size() + 63) / 64, 0));
  for (std::size_t row = 0; row < rows.size(); ++row)
    for (std::size_t column = 0; column < columns; ++column)
      if (has(rows[row], column)) add(other[column], row);
  return other;
}

// Without those that hold another one whole (`smallest`) or that another one holds, and without empty ones.
std::vector<Bits> undominated(const std::vector<Bits>& all, bool smallest) {
  std::vector<std::pair<int, std::size_t>> order;
  for (std::size_t k = 0; k < all.size(); ++k)
    order.emplace_back(smallest ? countOf(all[k]) : -countOf(all[k]), k);
  std::sort(order.begin(), order.end());
  std::vector<Bits> kept;
  for (const auto& [count, k] : order) {
    const Bits& one = all[k];
    const bool needless = count == 0 || std::any_of(kept.begin(), kept.end(), [&](const Bits& other) {
                            return smallest ? holds(one, other) : holds(other, one);
                          });
    if (!needless) kept.push_back(one);
  }
  return kept;
}

std::vector<std::uint32_t> numbersIn(const Bits& bits, std::size_t below) {
  std::vector<std::uint32_t> numbers;
  for (std::uint32_t number = 0; number < below; ++number)
    if (has(bits, number)) numbers.push_back(number);
  return numbers;
}

std::vector<Bits> setsOf(const cover::CoverProblem& problem) {
  std::vector<Bits> sets;
  for (const cover::CoverSet& set : problem.sets) {
    sets.emplace_back((problem.elements + 63) / 64, 0);
    for (const std::uint32_t element : set.covers) add(sets.back(), element);
  }
  return sets;
}

}  // namespace

cover::CoverProblem withFewerElements(const cover::CoverProblem& problem) {
  const std::vector<Bits> rows = undominated(turned(setsOf(problem), problem.elements), true);
  const std::vector<Bits> sets = turned(rows, problem.sets.size());
  cover::CoverProblem fewer = problem;
  fewer.elements = static_cast<std::uint32_t>(rows.size());
  fewer.value.clear();
  for (std::size_t k = 0; k < sets.size(); ++k) fewer.sets[k].covers = numbersIn(sets[k], rows.size());
  return fewer;
}

cover::CoverProblem reduced(const cover::CoverProblem& problem) {
  std::vector<Bits> sets = setsOf(problem);
  std::size_t elements = problem.elements;
  for (std::size_t before = 0; before != sets.size() + elements;) {
    before = sets.size() + elements;
    sets = undominated(sets, false);
    const std::vector<Bits> rows = undominated(turned(sets, elements), true);
    sets = turned(rows, sets.size());
    elements = rows.size();
  }
  cover::CoverProblem small;
  small.elements = static_cast<std::uint32_t>(elements);
  for (const Bits& bits : sets) {
    cover::CoverSet set{numbersIn(bits, small.elements), 1, {}};
    if (!set.covers.empty()) small.sets.push_back(std::move(set));
  }
  return small;
}

}  // namespace petalproof
