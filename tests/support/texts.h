#pragma once
// Of texts that tests look at.

#include "engine/base/problem.h"

#include <string>

namespace petalproof::testing {

inline bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

// As they are printed, each with its end of line.
template <class Value>
std::string problemsOf(const Result<Value>& result) {
  std::string text;
  for (const Problem& problem : result.problems) text += toString(problem) + "\n";
  return text;
}

}  // namespace petalproof::testing
