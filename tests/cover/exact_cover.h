#pragma once
// The lightest cover by GLPK's branch and cut, as the reference.

#include "engine/cover/cover.h"

#include <optional>
#include <vector>

namespace petalproof {

struct ExactCover {
  double weight = 0;
  std::vector<std::uint32_t> chosen;
};

// Of a problem in which everything can be covered. None: not proved to be the lightest within the time.
std::optional<ExactCover> exactCover(const cover::CoverProblem& problem, int seconds = 60);

// The same where sets may be taken in part, by GLPK's simplex method; without limits and conflicts.
std::optional<double> fractionalCover(const cover::CoverProblem& problem);

}  // namespace petalproof
