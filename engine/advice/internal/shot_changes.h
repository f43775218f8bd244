#pragma once
// Makes the changes of a shot that a photographer would agree to, with the people framed as before. adviseOn
// tries them.

#include "engine/advice/advice.h"
#include "engine/advice/internal/keeps_framing.h"

#include <vector>

namespace petalproof::advice {

// In the order in which they are to be tried; only those that keep the framing. None for a shot whose camera
// is impossible.
std::vector<ShotChange> shotChanges(const plan::Shot& shot, const ShotLimits& limits);

}  // namespace petalproof::advice
