#include "viewer/complain.h"

#include <fmt/format.h>

#include <cstdio>

namespace petalproof {

void print(const std::vector<Problem>& problems, const char* prefix) {
  for (const Problem& problem : problems) fmt::print(stderr, "{}{}\n", prefix, toString(problem));
}

ExitStatus complain(const std::string& message, ExitStatus status) {
  fmt::print(stderr, "{}\n", message);
  return status;
}

ExitStatus complainByName(const std::string& message, ExitStatus status) {
  return complain("petalproof: " + message, status);
}

}  // namespace petalproof
