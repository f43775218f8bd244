#pragma once
// Reads the [[layout]] and [[filler]] sections of a plan file; readPlan calls this. The layouts are complete
// only if `field`'s findings have no problem.

#include "engine/plan/findings.h"
#include "engine/plan/internal/field.h"

#include <string_view>
#include <vector>

namespace petalproof::plan {

// A grid cell that ends in this turns its layout by half a turn.
constexpr std::string_view upside_down_suffix = " upside down";

// `blooms` are the known names, `names` collects the layouts' names, `places` the place of each placement.
std::vector<Layout> readLayouts(const Field& field, const Names& blooms, Names& names,
                                std::vector<std::vector<Place>>& places);
std::vector<Filler> readFillers(const Field& field, const Names& blooms, std::vector<Place>& places);

}  // namespace petalproof::plan
