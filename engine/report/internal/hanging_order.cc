#include "engine/report/internal/hanging_order.h"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace petalproof::report {
namespace {

// The row of the lowest panel that a filler sits on: of "B2|C2" 2, of "B2/B3" 3, of "B2+C3" 3, of "B2" 2.
int lowestRow(const fill::PlacedFiller& filler) {
  const std::size_t letter = filler.over.find_last_not_of("0123456789");
  const std::string digits = filler.over.substr(letter == std::string::npos ? 0 : letter + 1);
  return filler.when == fill::When::onTheTable || digits.empty() ? filler.panel_row + 1 : std::stoi(digits);
}

auto orderOf(const fill::PlacedFiller& filler) {
  return std::tuple(lowestRow(filler), static_cast<int>(filler.when), filler.panel_column, filler.panel_row,
                    filler.from_top_mm, filler.from_left_mm);
}

std::vector<int> inOrder(const std::vector<fill::PlacedFiller>& fillers) {
  std::vector<int> order(fillers.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
    return orderOf(fillers[static_cast<std::size_t>(a)]) < orderOf(fillers[static_cast<std::size_t>(b)]);
  });
  return order;
}

}  // namespace

std::vector<HangingGroup> hangingGroups(const std::vector<fill::PlacedFiller>& fillers) {
  std::vector<HangingGroup> groups;
  for (const int index : inOrder(fillers)) {
    const fill::PlacedFiller& filler = fillers[static_cast<std::size_t>(index)];
    const int row = lowestRow(filler);
    if (groups.empty() || groups.back().row != row || groups.back().when != filler.when)
      groups.push_back({row, filler.when, {}});
    groups.back().fillers.push_back(index);
  }
  return groups;
}

std::vector<int> listNumbers(const std::vector<fill::PlacedFiller>& fillers) {
  std::vector<int> numbers(fillers.size());
  int number = 0;
  for (const int index : inOrder(fillers)) numbers[static_cast<std::size_t>(index)] = ++number;
  return numbers;
}

}  // namespace petalproof::report
