#pragma once
// Refuses TOML that a parser would answer with deep recursion or endless searching; readPlan calls this
// before the parser sees the text.

#include "engine/base/problem.h"

#include <optional>
#include <string>
#include <string_view>

namespace petalproof::plan {

// The first list or table nested too deeply, the first key of too many parts, or too many dotted keys. No
// plan needs them. `file` names the file in the problem.
std::optional<Problem> tooDeep(std::string_view text, const std::string& file);

}  // namespace petalproof::plan
