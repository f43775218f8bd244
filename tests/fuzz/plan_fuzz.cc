// Any bytes as a plan: a plan or problems, and what is read can be written and read again.
#include "engine/plan/read_plan.h"
#include "engine/plan/write_plan.h"
#include "tests/fuzz/expect.h"

#include <cstdint>
#include <string_view>

using namespace petalproof;
using namespace petalproof::plan;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto read = readPlan(text, "fuzz.toml", "/nonexistent");
  fuzz::expect(read.value.has_value() == read.problems.empty(), "either a plan or problems");
  if (!read) return 0;
  const std::string written = writePlan(read.value->plan);
  const auto again = readPlan(written, "again.toml", "/nonexistent");
  fuzz::expect(again.value.has_value(), "a plan that was written can be read");
  fuzz::expect(again.value->plan == read.value->plan, "and is the same plan");
  fuzz::expect(writePlan(again.value->plan) == written, "and is written as before");
  return 0;
}
