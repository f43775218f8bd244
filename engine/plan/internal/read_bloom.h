#pragma once
// Reads the [[bloom]] sections of a plan file; readPlan calls this. The blooms are complete only if `field`'s
// findings have no problem.

#include "engine/plan/findings.h"
#include "engine/plan/internal/field.h"

#include <vector>

namespace petalproof::plan {

// `names` collects the blooms' names, `places` the place of each bloom (of its mesh's path, if it has one).
std::vector<Bloom> readBlooms(const Field& field, Names& names, std::vector<Place>& places);

}  // namespace petalproof::plan
