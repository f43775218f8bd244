#include "engine/tables/internal/bloom_columns.h"

#include "engine/plan/findings.h"
#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

namespace petalproof::tables {
namespace {

// Headings stand near the top; with misspelt words, only the first rows count, or remarks pass for headings.
constexpr std::size_t furthest_heading_row = 60;
constexpr std::size_t furthest_misspelt_row = 5;
constexpr std::size_t most_bloom_columns = 200;  // far beyond a maker's table

std::vector<BloomColumn> columnsOf(const SheetRow& row, Slips slips) {
  std::vector<BloomColumn> columns;
  for (std::size_t k = 0; k < row.cells.size(); ++k) {
    if (auto heading = headingFrom(row.cells[k], slips))
      columns.push_back({k, std::move(*heading), row.cells[k]});
  }
  return columns;
}

std::size_t weightOf(const std::vector<BloomColumn>& columns) {
  std::set<Meaning> known;
  for (const BloomColumn& column : columns)
    if (column.heading.meaning != Meaning::unread) known.insert(column.heading.meaning);
  return known.size();
}

// The row with the most headings among the first rows; nothing if no row has two.
std::optional<std::size_t> headingRow(const Sheet& sheet, Slips slips) {
  std::optional<std::size_t> best;
  std::size_t most = 1;
  const std::size_t furthest = slips == Slips::refused ? furthest_heading_row : furthest_misspelt_row;
  for (std::size_t k = 0; k < std::min(sheet.rows.size(), furthest); ++k) {
    const std::size_t weight = weightOf(columnsOf(sheet.rows[k], slips));
    if (weight <= most) continue;
    best = k;
    most = weight;
  }
  return best;
}

BloomColumn* findIn(std::vector<BloomColumn>& columns, Meaning meaning) {
  const auto found = std::find_if(columns.begin(), columns.end(), [&](const BloomColumn& column) {
    return column.heading.meaning == meaning;
  });
  return found == columns.end() ? nullptr : &*found;
}

// "No." or "#" beside a "Qty" numbers the lines.
void leaveOutLineNumbers(std::vector<BloomColumn>& columns) {
  const auto counts = std::count_if(columns.begin(), columns.end(), [](const BloomColumn& column) {
    return column.heading.meaning == Meaning::count && !column.heading.in_all;
  });
  for (BloomColumn& column : columns) {
    const std::string word = joined(wordsOf(column.text));
    const bool numbers = column.text == "#" || word == "no" || word == "nr" || word == "number";
    if (counts > 1 && numbers) column.heading.meaning = Meaning::unread;
  }
}

// Settles meanings that depend on the other headings: "type" alone is the flower, "width" alone its size.
void settle(std::vector<BloomColumn>& columns) {
  const auto moves = [&](Meaning from, Meaning to) {
    BloomColumn* column = findIn(columns, from);
    if (column != nullptr && findIn(columns, to) == nullptr) column->heading.meaning = to;
  };
  moves(Meaning::shape, Meaning::name);
  moves(Meaning::label, Meaning::name);
  moves(Meaning::width, Meaning::size);
  leaveOutLineNumbers(columns);
}

std::string quotedHeadings(const SheetRow& row) {
  std::vector<std::string> headings;
  for (const std::string& cell : row.cells)
    if (!cell.empty()) headings.push_back(plan::inQuotes(cell));
  return joined(headings, ", ");
}

class ColumnChecker {
 public:
  ColumnChecker(const Sheet& sheet, const BloomColumns& columns) : sheet_(&sheet), columns_(&columns) {}

  void needs(Meaning meaning, std::string_view question, std::string_view examples) {
    if (columns_->find(meaning) != nullptr) return;
    problems_.push_back({sheet_->at(row()), fmt::format("{} No column is headed {}; the headings are {}",
                                                        question, examples, quotedHeadings(row()))});
  }

  void onlyOne(Meaning meaning, std::string_view statement) {
    const BloomColumn* first = columns_->find(meaning);
    for (const BloomColumn& column : columns_->columns) {
      const Heading& heading = column.heading;
      if (heading.meaning != meaning || &column == first || heading.in_all) continue;
      problems_.push_back({sheet_->at(row(), column.number),
                           fmt::format("two columns say {}, {} and {}: which is meant? Rename the other",
                                       statement, plan::inQuotes(first->text), plan::inQuotes(column.text))});
    }
  }

  std::vector<Problem> take() { return std::move(problems_); }

 private:
  const SheetRow& row() const { return sheet_->rows[columns_->heading_row]; }

  const Sheet* sheet_;
  const BloomColumns* columns_;
  std::vector<Problem> problems_;
};

std::vector<Problem> questionsAbout(const Sheet& sheet, const BloomColumns& columns, bool count_needed) {
  ColumnChecker checker(sheet, columns);
  checker.needs(Meaning::name, "which column names the flower?",
                "\"Flower\", \"Bloom\", \"Name\" or \"Type\"");
  checker.needs(Meaning::size, "how large is each?", "\"Size\", \"Diameter\" or \"Length\"");
  if (count_needed) checker.needs(Meaning::count, "how many of each?", "\"Qty\", \"Count\" or \"Number\"");
  checker.onlyOne(Meaning::size, "how large each is");
  checker.onlyOne(Meaning::count, "how many there are");
  checker.onlyOne(Meaning::sheets, "how many sheets one takes");
  return checker.take();
}

// Remarks on headings that were misspelt and on columns that weren't read.
std::vector<Problem> remarksOn(const Sheet& sheet, const BloomColumns& columns) {
  const SheetRow& row = sheet.rows[columns.heading_row];
  std::vector<Problem> remarks;
  for (const BloomColumn& column : columns.columns)
    if (!column.heading.meant.empty())
      remarks.push_back({sheet.at(row, column.number),
                         fmt::format("the heading {} is read as {}", plan::inQuotes(column.text),
                                     plan::inQuotes(column.heading.meant))});
  for (std::size_t k = 0; k < row.cells.size(); ++k) {
    const bool read =
        std::any_of(columns.columns.begin(), columns.columns.end(), [&](const BloomColumn& column) {
          const bool second_name =
              column.heading.meaning == Meaning::name && columns.find(Meaning::name) != &column;
          return column.number == k && !second_name;
        });
    if (!read && !row.cells[k].empty())
      remarks.push_back(
          {sheet.at(row, k), fmt::format("the column {} is not read", plan::inQuotes(row.cells[k]))});
  }
  return remarks;
}

}  // namespace

const BloomColumn* BloomColumns::find(Meaning meaning) const {
  const BloomColumn* of_all = nullptr;
  for (const BloomColumn& column : columns) {
    if (column.heading.meaning != meaning) continue;
    if (!column.heading.in_all) return &column;
    if (of_all == nullptr) of_all = &column;
  }
  return of_all;
}

Result<BloomColumns> findColumns(const Sheet& sheet, bool count_needed) {
  if (sheet.columns() > most_bloom_columns)
    return Result<BloomColumns>::failure(sheet.whole(), "has more than the limit of 200 columns");
  auto row = headingRow(sheet, Slips::refused);
  if (!row) row = headingRow(sheet, Slips::forgiven);
  if (!row)
    return Result<BloomColumns>::failure(
        sheet.whole(),
        "which column says what? No row of headings was found; put one above the blooms, such as "
        "Flower, Size, Qty, Colour");
  BloomColumns columns{*row, columnsOf(sheet.rows[*row], Slips::forgiven)};
  settle(columns.columns);
  auto problems = questionsAbout(sheet, columns, count_needed);
  auto remarks = remarksOn(sheet, columns);
  if (!problems.empty()) return {std::nullopt, std::move(problems), std::move(remarks)};
  return Result<BloomColumns>::success(std::move(columns), std::move(remarks));
}

}  // namespace petalproof::tables
