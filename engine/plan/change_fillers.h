#pragma once
// Changes the fillers in a plan's own text. Everything else stays byte for byte: comments, order, line ends.
// `petalproof fill` saves its fillers this way.

#include "engine/plan/plan.h"

#include <string>
#include <string_view>
#include <vector>

namespace petalproof::plan {

// Returns the text with these fillers: of its own, those numbered in `kept` (ascending indices into
// Plan::fillers), then `added`, in that order. Precondition: the text reads without problems. New entries
// stand behind the text's fillers, else at its end, and are written like the text's own (sections, or one
// list). Comments of a removed entry stay. Reading the result gives the plan with these fillers.
std::string withFillers(std::string_view text, const std::vector<int>& kept,
                        const std::vector<Filler>& added);

}  // namespace petalproof::plan
