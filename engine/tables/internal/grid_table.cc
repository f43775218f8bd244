#include "engine/tables/internal/grid_table.h"

#include "engine/base/nearest_name.h"
#include "engine/plan/findings.h"
#include "engine/plan/ranges.h"
#include "engine/plan/read_plan.h"
#include "engine/plan/utf8.h"
#include "engine/tables/internal/grid_cell.h"
#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <vector>

namespace petalproof::tables {
namespace {

constexpr std::size_t most_listed = 6;  // cells in a remark
// A grid of 200 x 200 cells with titles, blank lines and notes around it.
constexpr std::size_t most_grid_rows = 1'000;
constexpr std::size_t most_grid_columns = 300;

using Block = std::vector<const SheetRow*>;  // rows without a blank one between them

std::vector<Block> blocksOf(const Sheet& sheet) {
  std::vector<Block> blocks(1);
  for (const SheetRow& row : sheet.rows) {
    const bool separator = row.number == 1 && row.cell(0).starts_with("sep=");
    if (separator) continue;
    if (!row.blank())
      blocks.back().push_back(&row);
    else if (!blocks.back().empty())
      blocks.emplace_back();
  }
  if (blocks.back().empty()) blocks.pop_back();
  return blocks;
}

// Whether the cell is a count, as a key to the layouts has beside each name: "3 panels", "x 4", "12".
bool saysHowMany(const std::string& cell) {
  const auto words = wordsOf(cell);
  const bool has_number =
      std::any_of(words.begin(), words.end(), [](const std::string& word) { return isNumber(word); });
  return has_number && std::all_of(words.begin(), words.end(), [](const std::string& word) {
           return isNumber(word) || word == "x" || singular(word) == "panel" || word == "pcs";
         });
}

// The number of cells of the block that may name layouts.
std::size_t weightOf(const Block& block, std::size_t at_least) {
  std::size_t count = 0;
  for (const SheetRow* row : block) {
    if (row->filled() < at_least) continue;
    count += static_cast<std::size_t>(
        std::count_if(row->cells.begin(), row->cells.end(),
                      [](const std::string& cell) { return !cell.empty() && !saysHowMany(cell); }));
  }
  return count;
}

// Whether the texts are "A", "B", "C" or "1", "2", "3" or "Column 1", "Column 2" or the like.
bool isSequence(const std::vector<std::string>& texts) {
  const auto matches = [&](auto expected) {
    for (std::size_t k = 0; k < texts.size(); ++k)
      if (lowerCase(texts[k]) != lowerCase(expected(static_cast<int>(k)))) return false;
    return true;
  };
  const auto numbered = [](std::string_view word) {
    return [word](int k) { return fmt::format("{}{}", word, k + 1); };
  };
  return matches([](int k) { return plan::columnLetters(k); }) || matches(numbered("")) ||
         matches(numbered("column ")) || matches(numbered("col ")) || matches(numbered("row ")) ||
         matches(numbered("r"));
}

class GridReading {
 public:
  GridReading(const Sheet& sheet, TableFindings& findings) : sheet_(&sheet), findings_(&findings) {}

  GridTable read(std::optional<int> columns, std::optional<int> rows) {
    findRows();
    GridTable table;
    table.title = title_;
    if (rows_.empty()) {
      findings_->problem(sheet_->whole(), "has no row that says which layouts hang side by side");
      return table;
    }
    findColumns();
    if (fits(columns, rows)) table.grid = grid();
    return table;
  }

 private:
  // The largest block is the grid. Other lines belong to it if they name only its layouts.
  void findRows() {
    const std::vector<Block> blocks = blocksOf(*sheet_);
    const std::size_t at_least = widest() > 1 ? 2 : 1;
    const auto main = std::max_element(blocks.begin(), blocks.end(), [&](const Block& a, const Block& b) {
      return weightOf(a, at_least) < weightOf(b, at_least);
    });
    if (main == blocks.end()) return;
    Block body = withoutHeadings(*main);
    labelled_ = hasLabels(body, at_least) || labelled_;
    for (const SheetRow* row : body)
      if (row->filled() >= at_least && !isTotals(*row)) addNames(*row);
    for (auto block = blocks.begin(); block != blocks.end(); ++block) {
      if (block == main)
        takeRows(body, at_least);
      else
        takeOther(*block, weightOf(*main, 2), at_least);
    }
  }

  std::size_t widest() const {
    std::size_t most = 0;
    for (const SheetRow& row : sheet_->rows) most = std::max(most, row.filled());
    return most;
  }

  // The block without column letters, numbers or names above its cells.
  Block withoutHeadings(const Block& block) {
    constexpr std::size_t heading_rows = 3;  // a title and a note may stand above the headings
    for (std::size_t k = 0; k + 1 < block.size() && k < heading_rows; ++k) {
      if (hasNamesAround(block, k)) {
        labelled_ = true;
        for (std::size_t line = 0; line <= k; ++line) takeLine(*block[line]);
        return Block(block.begin() + static_cast<std::ptrdiff_t>(k) + 1, block.end());
      }
      std::vector<std::string> filled;
      for (const std::string& cell : block[k]->cells)
        if (!cell.empty()) filled.push_back(cell);
      const std::size_t first = block[k]->firstFilled();
      const bool says_rows = startsRowNumbers(filled.front());
      const bool corner = says_rows || (filled.size() > 2 && !isSequence(filled));
      if (corner) filled.erase(filled.begin());
      if (filled.empty() || !isSequence(filled)) continue;
      // A grid may have layouts called A, B and C, also behind another layout in their row.
      if (!says_rows && (filled.size() < 2 || namedBelow(block, k, filled))) continue;
      labelled_ = corner || (first == 1 && !block[k + 1]->cell(0).empty());
      Block body(block.begin() + static_cast<std::ptrdiff_t>(k) + 1, block.end());
      for (std::size_t above = 0; above < k; ++above) takeLine(*block[above]);
      return body;
    }
    return block;
  }

  // Whether names stand above and before the cells, the corner empty: "Left", "Middle", "Right" and "Top",
  // "Bottom". None of these names may be a layout inside, and a layout inside must hang more than once.
  static bool hasNamesAround(const Block& block, std::size_t heading) {
    if (block[heading]->firstFilled() != 1 || block.size() < heading + 3) return false;
    std::set<std::string> around;
    for (const std::string& cell : block[heading]->cells)
      if (!cell.empty() && !around.insert(lowerCase(cell)).second) return false;
    std::map<std::string, int> inside;
    for (std::size_t k = heading + 1; k < block.size(); ++k) {
      if (block[k]->cell(0).empty() || !around.insert(lowerCase(block[k]->cell(0))).second) return false;
      for (std::size_t column = 1; column < block[k]->cells.size(); ++column)
        if (const plan::Cell cell = gridCellFrom(block[k]->cells[column]).cell; cell.hasPanel())
          ++inside[lowerCase(cell.layout)];
    }
    const bool again = std::any_of(inside.begin(), inside.end(), [](const auto& n) { return n.second > 1; });
    return again && std::none_of(inside.begin(), inside.end(),
                                 [&](const auto& n) { return around.contains(n.first); });
  }

  static bool startsRowNumbers(const std::string& text) {
    const std::string word = lowerCase(text);
    return word == "row" || word == "rows" || word == "panel";
  }

  static bool namedBelow(const Block& block, std::size_t heading, const std::vector<std::string>& headings) {
    std::set<std::string> names;
    for (const std::string& name : headings) names.insert(lowerCase(name));
    for (std::size_t k = heading + 1; k < block.size(); ++k)
      for (std::size_t column = 1; column < block[k]->cells.size(); ++column)
        if (names.contains(lowerCase(gridCellFrom(block[k]->cells[column]).cell.layout))) return true;
    return false;
  }

  // Whether row numbers or letters stand before the cells.
  static bool hasLabels(const Block& body, std::size_t at_least) {
    std::vector<std::string> first;
    for (const SheetRow* row : body)
      if (row->filled() >= at_least && !isTotals(*row)) first.push_back(row->cell(0));
    if (first.size() < 2 || at_least < 2) return false;
    return isSequence(first) && !lowerCase(first[0]).starts_with('a');
  }

  // Whether the row is a line of totals: "Total" with numbers beside it, "Grand total", "Total 12 panels".
  static bool isTotals(const SheetRow& row) {
    const std::size_t first = row.firstFilled();
    const std::string& text = row.cells[first];
    if (!startsTotals(text)) return false;
    const std::string number = text.substr(std::min(text.size(), text.find_first_of("0123456789")));
    const auto words = wordsOf(text);
    const bool alone = words.size() == 1 || startsTotals(words.back());
    return (alone || saysHowMany(number)) &&
           std::all_of(row.cells.begin() + static_cast<std::ptrdiff_t>(first) + 1, row.cells.end(),
                       [](const std::string& cell) { return cell.empty() || saysHowMany(cell); });
  }

  std::size_t firstColumn() const { return labelled_ ? 1 : 0; }

  void addNames(const SheetRow& row) {
    for (std::size_t k = firstColumn(); k < row.cells.size(); ++k)
      if (const plan::Cell cell = gridCellFrom(row.cells[k]).cell; cell.hasPanel())
        names_.insert(lowerCase(cell.layout));
  }

  bool namesLayoutsOnly(const SheetRow& row) const {
    for (std::size_t k = firstColumn(); k < row.cells.size(); ++k) {
      const plan::Cell cell = gridCellFrom(row.cells[k]).cell;
      if (cell.hasPanel() && !names_.contains(lowerCase(cell.layout))) return false;
    }
    return true;
  }

  void takeRows(const Block& block, std::size_t at_least) {
    for (const SheetRow* row : block) {
      if (isTotals(*row))
        findings_->remark(sheet_->at(*row), "a line of totals: left out");
      else if (row->filled() >= at_least || namesLayoutsOnly(*row))
        rows_.push_back(row);
      else
        takeLine(*row);
    }
  }

  void takeOther(const Block& block, std::size_t main_size, std::size_t at_least) {
    const bool all_known =
        std::all_of(block.begin(), block.end(), [&](const SheetRow* row) { return namesLayoutsOnly(*row); });
    if (all_known) return takeRows(block, at_least);
    if (weightOf(block, 2) == main_size && main_size > 1) {
      findings_->problem(sheet_->at(*block.front()),
                         "is this row part of the grid? Take out the blank line before it, or the row");
      return;
    }
    for (const SheetRow* row : block) {
      if (isTotals(*row))
        findings_->remark(sheet_->at(*row), "a line of totals: left out");
      else
        takeLine(*row);
    }
  }

  void takeLine(const SheetRow& row) {
    const std::string& text = row.cells[row.firstFilled()];
    if (title_.empty() && rows_.empty() && row.filled() == 1) title_ = text;
    findings_->remark(sheet_->at(row),
                      fmt::format("{} is not part of the grid: left out", plan::inQuotes(text)));
  }

  void findColumns() {
    std::size_t first = sheet_->columns();
    std::size_t last = 0;
    for (const SheetRow* row : rows_) {
      for (std::size_t k = firstColumn(); k < row->cells.size(); ++k) {
        if (row->cells[k].empty()) continue;
        first = std::min(first, k);
        last = std::max(last, k);
      }
    }
    first_ = first;
    columns_ = last >= first ? static_cast<int>(last - first) + 1 : 0;
  }

  bool fits(std::optional<int> columns, std::optional<int> rows) {
    const std::size_t before = findings_->problems.size();
    const plan::PlanLimits limits;
    const int found_rows = static_cast<int>(rows_.size());
    const auto check = [&](int found, std::optional<int> wanted, int limit, std::string_view noun) {
      if (found > limit)
        findings_->problem(sheet_->whole(),
                           fmt::format("the grid has {} {}, more than the limit of {}", found, noun, limit));
      else if (wanted && *wanted != found)
        findings_->problem(sheet_->whole(),
                           fmt::format("the grid has {} {}, --{} says {}", found, noun, noun, *wanted));
    };
    check(columns_, columns, limits.columns, "columns");
    check(found_rows, rows, limits.rows, "rows");
    return findings_->problems.size() == before;
  }

  Grid<plan::Cell> grid() {
    Grid<plan::Cell> made(columns_, static_cast<int>(rows_.size()));
    for (int row = 0; row < made.rows(); ++row)
      for (int column = 0; column < made.columns(); ++column) made.at(column, row) = cell(column, row);
    tellOfEmptyCells(made);
    askAboutRareNames();
    return made;
  }

  plan::Cell cell(int column, int row) {
    const SheetRow& from = *rows_[static_cast<std::size_t>(row)];
    const std::size_t at = first_ + static_cast<std::size_t>(column);
    const GridCellText found = gridCellFrom(from.cell(at));
    plan::Cell made = found.cell;
    if (!made.hasPanel()) return made;
    if (plan::characterCount(made.layout) > plan::longest_plan_name)
      findings_->problem(sheet_->at(from, at),
                         fmt::format("{} is too long for a layout's name; 100 characters are "
                                     "the most",
                                     plan::inQuotes(made.layout)));
    Use& use = uses_.emplace(lowerCase(made.layout), Use{made.layout, 0, sheet_->at(from, at)}).first->second;
    ++use.cells;
    made.layout = use.spelling;
    if (found.shortened && shortened_told_.insert(wordsOf(from.cell(at)).back()).second)
      findings_->remark(sheet_->at(from, at), fmt::format("{} is read as \"{} upside down\"",
                                                          plan::inQuotes(from.cell(at)), made.layout));
    return made;
  }

  void tellOfEmptyCells(const Grid<plan::Cell>& made) {
    std::vector<std::string> empty;
    for (int row = 0; row < made.rows(); ++row)
      for (int column = 0; column < made.columns(); ++column)
        if (!made.at(column, row).hasPanel()) empty.push_back(plan::cellName(column, row));
    if (empty.empty()) return;
    const std::size_t unlisted = empty.size() - std::min(empty.size(), most_listed);
    empty.resize(empty.size() - unlisted);
    findings_->remark(sheet_->whole(),
                      fmt::format("no panel hangs in {}{}", joined(empty, ", "),
                                  unlisted > 0 ? fmt::format(" and {} more", unlisted) : ""));
  }

  // Asks about names in a single cell that are near to names in several cells: typing errors.
  void askAboutRareNames() {
    constexpr std::size_t most_compared = 200;  // names; the time grows with their square
    constexpr std::size_t shortest_name = 4;    // shorter names are near to each other by chance
    std::vector<std::string> usual;
    for (const auto& [name, use] : uses_)
      if (use.cells >= 2) usual.push_back(use.spelling);
    if (usual.size() > most_compared) return;
    for (const auto& [name, use] : uses_) {
      if (use.cells > 1 || use.spelling.size() < shortest_name) continue;
      if (const std::string question = didYouMean(use.spelling, usual); !question.empty())
        findings_->remark(use.first,
                          fmt::format("{} hangs only here{}", plan::inQuotes(use.spelling), question));
    }
  }

  struct Use {
    std::string spelling;
    int cells = 0;
    Place first;
  };

  const Sheet* sheet_;
  TableFindings* findings_;
  std::string title_;
  bool labelled_ = false;
  std::set<std::string> names_;  // of the grid's layouts, in lower case
  std::vector<const SheetRow*> rows_;
  std::size_t first_ = 0;  // column of the sheet
  int columns_ = 0;
  std::map<std::string, Use> uses_;  // by the name in lower case
  std::set<std::string> shortened_told_;
};

}  // namespace

GridTable readGridTable(const Sheet& sheet, std::optional<int> columns, std::optional<int> rows,
                        TableFindings& findings) {
  if (sheet.rows.size() > most_grid_rows || sheet.columns() > most_grid_columns) {
    findings.problem(sheet.whole(), "is too large for a grid; 200 columns and 200 rows are the most");
    return {};
  }
  return GridReading(sheet, findings).read(columns, rows);
}

}  // namespace petalproof::tables
