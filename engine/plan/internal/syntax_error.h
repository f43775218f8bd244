#pragma once
#include "engine/base/problem.h"
#include "engine/plan/internal/toml.h"

#include <string>
#include <string_view>

namespace petalproof::plan {

// A mistake in the TOML itself, in words for someone who never heard of TOML. `text` is what was parsed.
Problem syntaxProblem(const toml::parse_error& error, std::string_view text, const std::string& file);

}  // namespace petalproof::plan
