#pragma once
// Ranges of the numbers and lengths that a key of a plan takes; Field checks values against them.

#include <cstddef>
#include <string_view>

namespace petalproof::plan {

// From `min` to `max`, both included; with `above_min`, `min` is excluded.
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

// The longest length: longer than any wall, and short enough that squares and sums keep their precision.
constexpr double longest_mm = 1'000'000;
// The shortest positive length: thinner than any paper.
constexpr double shortest_mm = 0.01;

}  // namespace petalproof::plan
