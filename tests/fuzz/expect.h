#pragma once
// What a fuzz target holds to be true of any input.

#include <cstdio>
#include <cstdlib>

namespace petalproof::fuzz {

// Ends the process where it isn't, so that the input that did it is kept.
inline void expect(bool holds, const char* what) {
  if (holds) return;
  std::fprintf(stderr, "not so: %s\n", what);
  std::abort();
}

}  // namespace petalproof::fuzz
