#include "engine/tables/internal/bloom_table.h"

#include "engine/plan/findings.h"
#include "engine/tables/internal/bloom_row.h"
#include "engine/tables/internal/shape_guess.h"
#include "engine/tables/internal/table_values.h"
#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace petalproof::tables {
namespace {

constexpr std::size_t most_bloom_rows = 2'000;  // far beyond a maker's table

enum class RowKind { blank, headings, totals, remark, bloom };

class TableReading {
 public:
  TableReading(const Sheet& sheet, const BloomColumns& columns, const BloomContext& context,
               TableFindings& findings)
      : sheet_(&sheet), columns_(&columns), context_(&context), findings_(&findings) {}

  BloomTable read() {
    BloomTable table;
    table.title = title();
    for (std::size_t k = columns_->heading_row + 1; k < sheet_->rows.size(); ++k) {
      if (k > columns_->heading_row + most_bloom_rows) {
        findings_->problem(sheet_->at(sheet_->rows[k]), "more than the limit of 2,000 rows");
        break;
      }
      readRow(sheet_->rows[k], table.rows);
    }
    if (!has_row_) findings_->problem(sheet_->whole(), "has no bloom below its headings");
    return table;
  }

 private:
  // The first line above the table with a single filled cell.
  std::string title() const {
    for (std::size_t k = 0; k < columns_->heading_row; ++k) {
      const SheetRow& row = sheet_->rows[k];
      if (row.filled() == 1 && !row.cells[row.firstFilled()].starts_with("sep="))
        return row.cells[row.firstFilled()];
    }
    return {};
  }

  RowKind kindOf(const SheetRow& row) const {
    if (row.blank()) return RowKind::blank;
    if (row.cells == sheet_->rows[columns_->heading_row].cells) return RowKind::headings;
    const std::string& first = row.cells[row.firstFilled()];
    const bool sized = !row.cell(columns_->find(Meaning::size)->number).empty();
    if (!sized && (startsTotals(firstWord(row)) || onlyNumbers(row))) return RowKind::totals;
    return row.filled() == 1 && !isNumber(first) && columns_->columns.size() > 1 ? RowKind::remark
                                                                                 : RowKind::bloom;
  }

  // Whether the row holds only numbers: sums without a word before them.
  static bool onlyNumbers(const SheetRow& row) {
    return std::all_of(row.cells.begin(), row.cells.end(),
                       [](const std::string& cell) { return cell.empty() || isNumber(cell); });
  }

  // The first cell that isn't a number, in whichever column; empty if all cells are numbers.
  // Precondition: the row isn't blank.
  static std::string firstWord(const SheetRow& row) {
    for (const std::string& cell : row.cells)
      if (!cell.empty() && !isNumber(cell)) return cell;
    return {};
  }

  void readRow(const SheetRow& row, std::vector<BloomRow>& rows) {
    switch (kindOf(row)) {
      case RowKind::blank: break;
      case RowKind::headings: findings_->remark(sheet_->at(row), "the headings once more: left out"); break;
      case RowKind::totals: readTotals(row); break;
      case RowKind::remark:
        findings_->remark(sheet_->at(row, row.firstFilled()),
                          fmt::format("{} is taken as a remark, not as a bloom",
                                      plan::inQuotes(row.cells[row.firstFilled()])));
        break;
      case RowKind::bloom: readBloom(row, rows); break;
    }
  }

  void readTotals(const SheetRow& row) {
    findings_->remark(sheet_->at(row), "a line of totals: left out");
    const BloomColumn* column = columns_->find(Meaning::count);
    const std::string word = firstWord(row);
    if (column == nullptr || !all_read_ || wordsOf(word).empty() || lowerCase(word).starts_with("sub"))
      return;
    const auto said = countFromText(row.cell(column->number));
    if (!said || said->count == sum_) return;
    findings_->remark(sheet_->at(row, column->number),
                      fmt::format("the total is {}, the rows above add up to {}", said->count, sum_));
  }

  void readBloom(const SheetRow& row, std::vector<BloomRow>& rows) {
    has_row_ = true;
    const BloomColumn* column = columns_->find(Meaning::count);
    const auto count = column ? countFromText(row.cell(column->number)) : std::nullopt;
    sum_ += count ? count->count : 0;
    auto made =
        RowReader(*sheet_, *columns_, row, *context_, *findings_).read(rows.empty() ? nullptr : &rows.back());
    if (made)
      rows.push_back(std::move(*made));
    else
      all_read_ = false;
  }

  const Sheet* sheet_;
  const BloomColumns* columns_;
  const BloomContext* context_;
  TableFindings* findings_;
  long long sum_ = 0;
  bool has_row_ = false;
  bool all_read_ = true;
};

}  // namespace

std::optional<Units> unitsOfSizes(const Sheet& sheet, const BloomColumns& columns) {
  const BloomColumn* column = columns.find(Meaning::size);
  if (column->heading.units) return column->heading.units;
  const BloomColumn* beside = columns.find(Meaning::unit);
  std::map<Units, int> named;
  for (std::size_t k = columns.heading_row + 1; k < sheet.rows.size(); ++k) {
    const std::string& cell = sheet.rows[k].cell(column->number);
    auto units = shareFromSizeWord(cell) ? std::nullopt : unitsNamed(cell);
    if (!units && beside != nullptr) units = unitsNamed(sheet.rows[k].cell(beside->number));
    if (units) ++named[*units];
  }
  const auto most = std::max_element(named.begin(), named.end(),
                                     [](const auto& a, const auto& b) { return a.second < b.second; });
  return most == named.end() ? std::nullopt : std::optional(most->first);
}

BloomTable readBloomTable(const Sheet& sheet, const BloomColumns& columns, const BloomContext& context,
                          TableFindings& findings) {
  return TableReading(sheet, columns, context, findings).read();
}

}  // namespace petalproof::tables
