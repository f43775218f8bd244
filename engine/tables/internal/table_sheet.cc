#include "engine/tables/internal/table_sheet.h"

#include "engine/plan/csv_rows.h"
#include "engine/plan/plan.h"
#include "engine/plan/table_text.h"

#include <algorithm>
#include <array>
#include <utility>

namespace petalproof::tables {
namespace {

// Far beyond the tables that makers keep; stray data in a sheet may reach farther than its table.
constexpr std::size_t most_sheet_rows = 100'000;
constexpr std::size_t most_sheet_columns = 1'000;

// The length in bytes of a space or control character at the front of the text; 0 if there is none.
std::size_t spaceLength(std::string_view text) {
  constexpr std::array<std::string_view, 5> wide{"\u00a0", "\u2009", "\u202f", "\u3000", "\ufeff"};
  for (const auto space : wide)
    if (text.starts_with(space)) return space.size();
  const auto first = static_cast<unsigned char>(text.front());
  return first <= 0x20 || first == 0x7f ? 1 : 0;
}

std::string onOneLine(std::string_view text) {
  std::string line;
  bool space = false;
  while (!text.empty()) {
    if (const std::size_t length = spaceLength(text); length > 0) {
      space = !line.empty();
      text.remove_prefix(length);
      continue;
    }
    if (space) line += ' ';
    space = false;
    line += text.front();
    text.remove_prefix(1);
  }
  return line;
}

// The text of ="17", as some spreadsheets export a text that looks like a number.
std::string withoutFormula(std::string text) {
  if (text.size() >= 3 && text.starts_with("=\"") && text.ends_with('"'))
    return text.substr(2, text.size() - 3);
  return text;
}

SheetRow sheetRow(const plan::RowText& row, int number) {
  SheetRow made{number, {}};
  for (const plan::CellText& cell : row.cells) made.cells.push_back(withoutFormula(onOneLine(cell.text)));
  while (!made.cells.empty() && made.cells.back().empty()) made.cells.pop_back();
  return made;
}

std::optional<std::string> tooLarge(const Sheet& sheet) {
  if (sheet.rows.size() > most_sheet_rows) return "has more than the limit of 100,000 rows";
  if (sheet.columns() > most_sheet_columns) return "has more than the limit of 1,000 columns";
  return std::nullopt;
}

}  // namespace

const std::string& SheetRow::cell(std::size_t column) const {
  static const std::string empty;
  return column < cells.size() ? cells[column] : empty;
}

bool SheetRow::blank() const { return filled() == 0; }

std::size_t SheetRow::filled() const {
  return static_cast<std::size_t>(
      std::count_if(cells.begin(), cells.end(), [](const std::string& cell) { return !cell.empty(); }));
}

std::size_t SheetRow::firstFilled() const {
  const auto first = std::find_if(cells.begin(), cells.end(), [](const auto& cell) { return !cell.empty(); });
  return static_cast<std::size_t>(first - cells.begin());
}

Place Sheet::at(const SheetRow& row, std::size_t column) const {
  return {file, row.number, static_cast<int>(column) + 1, plan::columnLetters(static_cast<int>(column))};
}

std::size_t Sheet::columns() const {
  std::size_t most = 0;
  for (const SheetRow& row : rows) most = std::max(most, row.cells.size());
  return most;
}

Result<Sheet> readSheet(const TableFile& file) {
  auto text = plan::tableText(file);
  if (!text) return Result<Sheet>::failure(std::move(text.problems));
  const plan::CsvText csv = plan::csvText(*text.value, std::nullopt);
  const auto rows = plan::rowsFromCsv(csv, file.name);
  if (!rows) return Result<Sheet>::failure(rows.problems);
  Sheet sheet{file.name, {}};
  int number = csv.first_line - 1;
  for (const plan::RowText& row : *rows.value) sheet.rows.push_back(sheetRow(row, ++number));
  while (!sheet.rows.empty() && sheet.rows.back().blank()) sheet.rows.pop_back();
  if (const auto why = tooLarge(sheet)) return Result<Sheet>::failure(sheet.whole(), *why);
  if (sheet.rows.empty()) return Result<Sheet>::failure(sheet.whole(), "is empty");
  return Result<Sheet>::success(std::move(sheet), std::move(text.warnings));
}

}  // namespace petalproof::tables
