#pragma once
// Which numbers a key takes.

#include <cstddef>
#include <string_view>

namespace petalproof::plan {

// Both ends belong to it, but for `above_min`: then only what is more than `min`.
struct NumberRange {
  double min = 0;
  double max = 0;
  bool above_min = false;

  constexpr bool holds(double value) const {
    return (above_min ? value > min : value >= min) && value <= max;
  }
};

struct WholeRange {
  long long min = 0;
  long long max = 0;
};

enum class LengthRange {
  any,  // either side of where it is measured from
  zeroOrMore,
  positive,
};

// In characters. Of names, which tables and file names repeat, and of titles and labels.
constexpr std::size_t longest_plan_name = 100;
constexpr std::size_t longest_plan_title = 200;

// Longer than anything on a wall, and short enough that squares and sums keep their meaning.
constexpr double longest_mm = 1'000'000;
// Thinner than any paper.
constexpr double shortest_mm = 0.01;

}  // namespace petalproof::plan
