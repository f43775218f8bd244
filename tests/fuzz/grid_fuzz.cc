// Any bytes as a grid from a spreadsheet, of walls of a few sizes.
#include "engine/plan/internal/grid_from_csv.h"
#include "tests/fuzz/expect.h"

#include <cstdint>
#include <optional>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::string text(reinterpret_cast<const char*>(data) + 1, size - 1);
  // The first byte says how large the wall is.
  const std::optional<int> columns = data[0] % 8 == 0 ? std::nullopt : std::optional(data[0] % 8);
  const std::optional<int> rows = data[0] / 8 % 8 == 0 ? std::nullopt : std::optional(data[0] / 8 % 8);
  const auto grid = gridFromCsv(text, "fuzz.csv", columns, rows);
  fuzz::expect(grid.value.has_value() == grid.problems.empty(), "either a grid or problems");
  if (!grid) return 0;
  for (const RowText& row : grid.value->rows)
    for (const CellText& cell : row.cells)
      fuzz::expect(cell.place.line >= 1 && cell.place.column >= 1, "each cell has its place");
  return 0;
}
