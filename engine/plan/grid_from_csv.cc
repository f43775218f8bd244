#include "engine/plan/internal/grid_text.h"
#include "engine/plan/internal/utf8.h"

#include <algorithm>
#include <utility>

namespace petalproof {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

struct Fit {
  long long lines_as_wide = 0;  // as the wall, or wider: the sheet's empty margin
  long long separators = 0;
  friend auto operator<=>(const Fit&, const Fit&) = default;
};

Fit fitOf(std::string_view text, char separator, std::optional<int> columns) {
  Fit fit;
  for (const int count : separatorsPerLine(text, separator)) {
    if (columns && count == *columns - 1) ++fit.lines_as_wide;
    fit.separators += count;
  }
  return fit;
}

// The separator that gives most lines the wall's columns, else the one that is there most often.
char guessedSeparator(std::string_view text, std::optional<int> columns) {
  char best = ',';
  Fit best_fit = fitOf(text, ',', columns);
  for (const char candidate : {';', '\t'}) {
    const Fit fit = fitOf(text, candidate, columns);
    if (!(best_fit < fit)) continue;
    best = candidate;
    best_fit = fit;
  }
  return best;
}

bool isEmpty(const RowText& row) {
  return std::all_of(row.cells.begin(), row.cells.end(), [](const CellText& c) { return c.text.empty(); });
}

bool isBlank(const RowText& row) { return row.cells.size() <= 1 && isEmpty(row); }

// A sheet's used area may reach beyond the grid: what is empty there isn't meant.
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

std::optional<std::string> notText(const std::string& bytes) {
  if (bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF"))
    return "is UTF-16 text; save it as CSV in UTF-8";
  if (bytes.find('\0') != std::string::npos) return "is no text; save it as CSV in UTF-8";
  return std::nullopt;
}

Place placeOfByte(std::string_view text, std::size_t at, const std::string& file) {
  const std::string_view before = text.substr(0, at);
  const auto line_start = before.rfind('\n') + 1;  // npos + 1 is 0
  return {file, static_cast<int>(std::count(before.begin(), before.end(), '\n')) + 1,
          static_cast<int>(characterCount(before.substr(line_start))) + 1};
}

}  // namespace

Result<GridText> gridFromCsv(std::string bytes, const std::string& file, std::optional<int> columns,
                             std::optional<int> rows) {
  if (const auto why = notText(bytes)) return Result<GridText>::failure(Place{file}, *why);
  if (bytes.starts_with(byte_order_mark)) bytes.erase(0, byte_order_mark.size());
  const std::string text = withNewlines(bytes);
  if (const auto bad = firstBadByte(text))
    return Result<GridText>::failure(placeOfByte(text, *bad, file),
                                     "a character here isn't UTF-8; save the grid as CSV in UTF-8");
  const auto declared = declaredSeparator(text);
  const std::string_view body =
      std::string_view(text).substr(declared ? std::min<std::size_t>(6, text.size()) : 0);
  const char separator = declared ? *declared : guessedSeparator(body, columns);
  auto found = rowsFromCsv(body, separator, file, declared ? 2 : 1);
  if (!found) return Result<GridText>::failure(std::move(found.problems));
  dropMargin(*found.value, columns, rows);
  return Result<GridText>::success({std::move(*found.value), Place{file, 1, 1}});
}

}  // namespace petalproof
