// Any bytes as a maker's table of blooms: a plan or problems, and what is read can be written and read again.
#include "engine/plan/read_plan.h"
#include "engine/tables/tables.h"
#include "tests/fuzz/expect.h"

#include <cstdint>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::tables;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  TablesInput input;
  input.blooms = TableFile{"fuzz.csv", std::string(reinterpret_cast<const char*>(data), size)};
  input.columns = 2;
  input.rows = 2;
  const auto made = planFromTables(input);
  fuzz::expect(made.value.has_value() == made.problems.empty(), "either a plan or problems");
  if (!made) return 0;
  for (const Bloom& bloom : made.value->request.blooms)
    fuzz::expect(bloom.diameter.value > 0 && !bloom.colours.empty(), "each bloom has its size and colour");
  return 0;
}
