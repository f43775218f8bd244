#pragma once
// Explains TOML syntax errors to people who have never heard of TOML; readPlan calls this.

#include "engine/base/problem.h"
#include "engine/plan/internal/toml.h"

#include <string>
#include <string_view>

namespace petalproof::plan {

// The parser's error in plain words, at the place where people look for it. `text` is the text that was
// parsed.
Problem syntaxProblem(const toml::parse_error& error, std::string_view text, const std::string& file);

}  // namespace petalproof::plan
