#include "engine/plan/internal/grid_from_csv.h"

#include "engine/plan/table_text.h"

#include <algorithm>
#include <utility>

namespace petalproof::plan {
namespace {

bool isEmpty(const RowText& row) {
  return std::all_of(row.cells.begin(), row.cells.end(), [](const CellText& c) { return c.text.empty(); });
}

bool isBlank(const RowText& row) { return row.cells.size() <= 1 && isEmpty(row); }

// Drops empty rows and cells beyond the grid: a sheet's used area may be larger than the wall.
void dropMargin(std::vector<RowText>& rows, std::optional<int> columns, std::optional<int> row_count) {
  const bool one_column = columns == 1;
  const auto too_many = [&] { return row_count && rows.size() > static_cast<std::size_t>(*row_count); };
  while (!rows.empty() && ((isBlank(rows.back()) && !one_column) || (isEmpty(rows.back()) && too_many())))
    rows.pop_back();
  if (!columns) return;
  for (RowText& row : rows)
    while (row.cells.size() > static_cast<std::size_t>(*columns) && row.cells.back().text.empty())
      row.cells.pop_back();
}

}  // namespace

Result<GridText> gridFromCsv(std::string bytes, const std::string& file, std::optional<int> columns,
                             std::optional<int> rows) {
  auto text = tableText({file, std::move(bytes)});
  if (!text) return Result<GridText>::failure(std::move(text.problems));
  auto found = rowsFromCsv(csvText(*text.value, columns), file);
  if (!found) return Result<GridText>::failure(std::move(found.problems));
  if (!found.value->empty() && isSeparatorLine(found.value->front()))
    found.value->erase(found.value->begin());
  dropMargin(*found.value, columns, rows);
  return Result<GridText>::success({std::move(*found.value), Place{file, 1, 1}}, std::move(text.warnings));
}

}  // namespace petalproof::plan
