#pragma once
// Cover problems with known optima, built by rule, and random ones of the described kinds.

#include "engine/base/hash.h"
#include "engine/cover/cover.h"

#include <cstdint>

namespace petalproof {

class CoverRandom {
 public:
  explicit CoverRandom(std::uint64_t seed) : state_(hashOf({seed})) {}
  double unit() { return unitFromHash(state_ = mixed(state_)); }
  std::uint32_t below(std::uint32_t end) { return static_cast<std::uint32_t>(unit() * end); }

 private:
  std::uint64_t state_;
};

// Points of the affine space of this dimension over three elements, all its lines to be met.
cover::CoverProblem linesOfThree(int dimension);
// The triple system of R. C. Bose, "On the construction of balanced incomplete block designs", Annals of
// Eugenics 9 (1939), on 6 n + 3 points, all triples to be met.
cover::CoverProblem boseTriples(int n);
// Edges of the cube of this dimension, all its cycles of four to be met.
cover::CoverProblem squaresOfCube(int dimension);
// Sets of four of so many points, so that both halves of no division into two are without one of them.
cover::CoverProblem foursInOneHalf(int points);
// A share `density` of all (row, column) pairs, every row in two columns and more, every column with a row,
// costs 1 to `dearest` (J. E. Beasley, "An algorithm for set covering problem", European Journal of
// Operational Research 31, 1987).
cover::CoverProblem randomCover(std::uint64_t seed, std::uint32_t rows, std::uint32_t columns, double density,
                                std::uint32_t dearest);

}  // namespace petalproof
