#pragma once
#include "engine/base/problem.h"
#include "engine/plan/internal/toml.h"

#include <string>

namespace petalproof {

// A mistake in the TOML itself, in words for someone who never heard of TOML.
Problem syntaxProblem(const toml::parse_error& error, const std::string& file);

}  // namespace petalproof
