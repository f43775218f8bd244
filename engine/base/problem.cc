#include "engine/base/problem.h"

#include <fmt/format.h>

namespace petalproof {

std::string toString(const Problem& problem) {
  const Place& place = problem.place;
  if (place.file.empty()) return problem.message;
  if (place.line == 0) return fmt::format("{}: {}", place.file, problem.message);
  if (!place.letters.empty())
    return fmt::format("{}:{}:{}: {}", place.file, place.line, place.letters, problem.message);
  if (place.column == 0) return fmt::format("{}:{}: {}", place.file, place.line, problem.message);
  return fmt::format("{}:{}:{}: {}", place.file, place.line, place.column, problem.message);
}

}  // namespace petalproof
