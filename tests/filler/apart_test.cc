#include "engine/filler/cover.h"

#include "tests/filler/cover_instances.h"
#include "tests/filler/exact_cover.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace petalproof;

namespace {

using Neighbours = std::vector<std::vector<std::uint32_t>>;

bool areApart(const Neighbours& neighbours, const std::vector<std::uint32_t>& places) {
  for (const std::uint32_t a : places)
    for (const std::uint32_t b : places)
      if (std::binary_search(neighbours[a].begin(), neighbours[a].end(), b)) return false;
  return true;
}

std::size_t sizeApart(const Neighbours& neighbours) {
  const auto apart = largestApart(neighbours, 1, 20'000);
  CHECK(std::is_sorted(apart.begin(), apart.end()));
  CHECK(areApart(neighbours, apart));
  return apart.size();
}

// Places of a board of squares that a chess king can step between.
Neighbours kingsSteps(int side) {
  Neighbours neighbours;
  for (int y = 0; y < side; ++y)
    for (int x = 0; x < side; ++x) {
      neighbours.emplace_back();
      for (int v = std::max(0, y - 1); v <= std::min(side - 1, y + 1); ++v)
        for (int u = std::max(0, x - 1); u <= std::min(side - 1, x + 1); ++u)
          if (u != x || v != y) neighbours.back().push_back(static_cast<std::uint32_t>(v * side + u));
    }
  return neighbours;
}

Neighbours ring(std::uint32_t size) {
  Neighbours neighbours(size);
  for (std::uint32_t i = 0; i < size; ++i) {
    neighbours[i] = {(i + size - 1) % size, (i + 1) % size};
    std::sort(neighbours[i].begin(), neighbours[i].end());
  }
  return neighbours;
}

Neighbours randomNeighbours(std::uint64_t seed, std::uint32_t size, double density) {
  CoverRandom random(seed);
  Neighbours neighbours(size);
  for (std::uint32_t a = 0; a < size; ++a)
    for (std::uint32_t b = a + 1; b < size; ++b)
      if (random.unit() < density) {
        neighbours[a].push_back(b);
        neighbours[b].push_back(a);
      }
  for (auto& list : neighbours) std::sort(list.begin(), list.end());
  return neighbours;
}

// All places but the largest set apart are the smallest set that meets every pair of neighbours.
double exactApart(const Neighbours& neighbours) {
  CoverProblem pairs;
  pairs.sets.resize(neighbours.size());
  for (std::uint32_t a = 0; a < neighbours.size(); ++a)
    for (const std::uint32_t b : neighbours[a])
      if (b > a) {
        pairs.sets[a].covers.push_back(pairs.elements);
        pairs.sets[b].covers.push_back(pairs.elements++);
      }
  const auto cover = exactCover(pairs);
  REQUIRE(cover.has_value());
  return static_cast<double>(neighbours.size()) - cover->weight;
}

}  // namespace

TEST_CASE("places apart: none, all, rings and kings") {
  CHECK(largestApart({}).empty());
  CHECK(sizeApart(Neighbours(5)) == 5);
  CHECK(sizeApart(ring(31)) == 15);
  CHECK(sizeApart(ring(100)) == 50);
  CHECK(sizeApart(kingsSteps(9)) == 25);
  CHECK(sizeApart(kingsSteps(12)) == 36);
}

TEST_CASE("places apart in random graphs, against GLPK") {
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    CAPTURE(seed);
    const Neighbours neighbours = randomNeighbours(seed, 45, 0.12);
    CHECK(static_cast<double>(sizeApart(neighbours)) == exactApart(neighbours));
  }
}

TEST_CASE("the same seed gives the same places") {
  const Neighbours neighbours = randomNeighbours(3, 200, 0.05);
  CHECK(largestApart(neighbours, 5, 3000) == largestApart(neighbours, 5, 3000));
  CHECK(areApart(neighbours, largestApart(neighbours, 5, 3000, [] { return true; })));
}
