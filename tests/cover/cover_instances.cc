#include "tests/cover/cover_instances.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <set>

namespace petalproof {
namespace {

// The problem from its rows: for each element the sets that cover it.
cover::CoverProblem fromRows(const std::vector<std::vector<std::uint32_t>>& rows, std::uint32_t columns) {
  cover::CoverProblem problem;
  problem.sets.resize(columns);
  for (const auto& row : rows) {
    for (const std::uint32_t column : row) problem.sets[column].covers.push_back(problem.elements);
    ++problem.elements;
  }
  return problem;
}

}  // namespace

// Three points are on a line where their coordinates add up to 0 (mod 3).
cover::CoverProblem linesOfThree(int dimension) {
  const auto points = static_cast<std::uint32_t>(std::lround(std::pow(3, dimension)));
  const auto third = [&](std::uint32_t a, std::uint32_t b) {
    std::uint32_t c = 0;
    for (std::uint32_t place = 1; place < points; place *= 3)
      c += (6 - a / place % 3 - b / place % 3) % 3 * place;
    return c;
  };
  std::vector<std::vector<std::uint32_t>> lines;
  for (std::uint32_t a = 0; a < points; ++a)
    for (std::uint32_t b = a + 1; b < points; ++b)
      if (const std::uint32_t c = third(a, b); c > b) lines.push_back({a, b, c});
  return fromRows(lines, points);
}

cover::CoverProblem boseTriples(int n) {
  const auto order = static_cast<std::uint32_t>(2 * n + 1);
  const auto half = static_cast<std::uint32_t>(n + 1);  // of one: 2 (n + 1) = 1 (mod order)
  std::vector<std::vector<std::uint32_t>> triples;
  for (std::uint32_t x = 0; x < order; ++x) triples.push_back({x, order + x, 2 * order + x});
  for (std::uint32_t x = 0; x < order; ++x)
    for (std::uint32_t y = x + 1; y < order; ++y)
      for (std::uint32_t layer = 0; layer < 3; ++layer)
        triples.push_back(
            {layer * order + x, layer * order + y, (layer + 1) % 3 * order + (x + y) * half % order});
  return fromRows(triples, 3 * order);
}

// An edge: its lower corner (the bit of its direction clear) and its direction.
cover::CoverProblem squaresOfCube(int dimension) {
  const auto bits = static_cast<std::uint32_t>(dimension);
  const std::uint32_t corners = 1U << bits;
  std::vector<std::uint32_t> number(corners * bits, 0);
  std::uint32_t edges = 0;
  for (std::uint32_t corner = 0; corner < corners; ++corner)
    for (std::uint32_t d = 0; d < bits; ++d)
      if ((corner >> d & 1U) == 0) number[corner * bits + d] = edges++;
  std::vector<std::vector<std::uint32_t>> squares;
  for (std::uint32_t corner = 0; corner < corners; ++corner)
    for (std::uint32_t d = 0; d < bits; ++d)
      for (std::uint32_t e = d + 1; e < bits; ++e)
        if ((corner >> d & 1U) == 0 && (corner >> e & 1U) == 0)
          squares.push_back({number[corner * bits + d], number[corner * bits + e],
                             number[(corner | 1U << d) * bits + e], number[(corner | 1U << e) * bits + d]});
  return fromRows(squares, edges);
}

cover::CoverProblem foursInOneHalf(int points) {
  const std::uint32_t all = (1U << points) - 1;
  std::vector<std::uint32_t> fours;
  for (std::uint32_t set = 0; set <= all; ++set)
    if (std::popcount(set) == 4) fours.push_back(set);
  std::vector<std::vector<std::uint32_t>> divisions;
  for (std::uint32_t half = 1; half < 1U << (points - 1); ++half) {
    divisions.emplace_back();
    for (std::uint32_t i = 0; i < fours.size(); ++i)
      if ((fours[i] & half) == 0 || (fours[i] & half) == fours[i]) divisions.back().push_back(i);
  }
  return fromRows(divisions, static_cast<std::uint32_t>(fours.size()));
}

cover::CoverProblem randomCover(std::uint64_t seed, std::uint32_t rows, std::uint32_t columns, double density,
                                std::uint32_t dearest) {
  CoverRandom random(seed);
  std::vector<std::set<std::uint32_t>> rows_of(columns);
  for (auto& column : rows_of) column.insert(random.below(rows));
  for (std::uint32_t row = 0; row < rows; ++row)
    for (int i = 0; i < 2; ++i) rows_of[random.below(columns)].insert(row);
  std::size_t held = 0;
  for (const auto& column : rows_of) held += column.size();
  while (static_cast<double>(held) < density * rows * columns)
    held += rows_of[random.below(columns)].insert(random.below(rows)).second ? 1U : 0U;
  cover::CoverProblem problem;
  problem.elements = rows;
  for (const auto& column : rows_of)
    problem.sets.push_back({{column.begin(), column.end()}, 1.0 + random.below(dearest), {}});
  return problem;
}

}  // namespace petalproof
