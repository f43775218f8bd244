#pragma once
// Searches for the blooms' places: simulated annealing over all layouts together (S. Kirkpatrick, C. D.
// Gelatt, M. P. Vecchi, "Optimization by Simulated Annealing", Science 220, 1983), with thresholds from a
// rational function instead of a logarithm, so that no library's last bit decides anything. arrange() calls
// placeItems.

#include "engine/arrange/internal/arrange_board.h"

#include <cstdint>
#include <vector>

namespace petalproof::arrange {

struct LeftOut {
  int layout = 0;
  int kind = 0;
};

// Sets the items' spots. Items without a place clear of the other plates are taken out of `task` and
// returned.
std::vector<LeftOut> placeItems(ArrangeTask& task, std::uint64_t seed);

}  // namespace petalproof::arrange
