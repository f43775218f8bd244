#pragma once
// Work in a process of its own, so that what hangs, crashes or eats memory ends only that.

#include <cstdint>
#include <functional>
#include <string>

namespace petalproof::testing {

struct Bounds {
  std::uint64_t bytes = 0;  // of address space; 0: any
  int cpu_seconds = 0;      // of all its threads together
};

// Empty where the work came to its end and returned an empty text; else how it ended ("crashed by signal 11",
// "took more than 60 s of processor time") or the text it returned. The caller must not have started threads.
std::string runBounded(const std::function<std::string()>& work, const Bounds& bounds);

// Processor time of this process so far, all threads together.
double cpuSeconds();

}  // namespace petalproof::testing
