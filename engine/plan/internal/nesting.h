#pragma once
#include "engine/base/problem.h"

#include <optional>
#include <string>
#include <string_view>

namespace petalproof::plan {

// What a TOML parser would answer with deep recursion or endless searching: lists within lists within
// lists, long chains of dotted keys, hundreds of thousands of them. No plan needs them; looked for before
// the parser sees the text. `file` names it in the problem.
std::optional<Problem> tooDeep(std::string_view text, const std::string& file);

}  // namespace petalproof::plan
