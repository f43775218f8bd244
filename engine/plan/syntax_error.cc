#include "engine/plan/internal/syntax_error.h"

#include <fmt/format.h>

namespace petalproof {

Problem syntaxProblem(const toml::parse_error& error, const std::string& file) {
  const auto& at = error.source().begin;
  return {{file, static_cast<int>(at.line), static_cast<int>(at.column)}, std::string(error.description())};
}

}  // namespace petalproof
