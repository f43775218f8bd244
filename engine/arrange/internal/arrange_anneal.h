#pragma once
// The search for the places: simulated annealing over all layouts together (S. Kirkpatrick, C. D. Gelatt,
// M. P. Vecchi, "Optimization by Simulated Annealing", Science 220, 1983), with thresholds from a rational
// function instead of a logarithm, so that no library's last bit decides anything.

#include "engine/arrange/internal/arrange_board.h"

#include <cstdint>
#include <vector>

namespace petalproof::arrange {

struct LeftOut {
  int layout = 0;
  int kind = 0;
};

// Finds the items' spots. Items for which there is no place clear of the other plates are taken out of
// `task` and returned.
std::vector<LeftOut> placeItems(ArrangeTask& task, std::uint64_t seed);

}  // namespace petalproof::arrange
