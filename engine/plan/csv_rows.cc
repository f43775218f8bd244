#include "engine/plan/csv_rows.h"

#include "engine/plan/utf8.h"

#include <csv.h>

#include <algorithm>
#include <map>
#include <new>
#include <utility>

namespace petalproof::plan {
namespace {

// Collects libcsv's cells and rows with their places in the file. The parser is fed byte by byte for that.
class CellCollector {
 public:
  CellCollector(std::string file, int first_line) : file_(std::move(file)), line_(first_line) { startRow(); }

  void cell(std::string_view text) { row_.cells.push_back({std::string(text), cell_place_}); }
  void endRow() {
    rows_.push_back(std::move(row_));
    row_ = {};
    row_ended_ = true;
  }

  // Call after each byte that was fed.
  void passed(char byte, bool separator_ended_cell) {
    ++passed_;
    if (byte == '\n') {
      ++line_;
      column_ = 1;
    } else if (startsCharacter(byte)) {
      ++column_;
    }
    if (std::exchange(row_ended_, false))
      startRow();
    else if (separator_ended_cell)
      startCell();
  }

  std::size_t cellsInRow() const { return row_.cells.size(); }
  std::vector<RowText> takeRows() { return std::move(rows_); }
  // The place of the cell being read, or of the next cell.
  const Place& cellPlace() const { return cell_place_; }
  std::size_t cellStart() const { return cell_start_; }

 private:
  void startCell() {
    cell_place_ = {file_, line_, column_};
    cell_start_ = passed_;
  }
  void startRow() {
    startCell();
    row_.place = cell_place_;
  }

  std::string file_;
  int line_ = 1;
  int column_ = 1;
  std::size_t passed_ = 0;  // bytes
  Place cell_place_;
  std::size_t cell_start_ = 0;
  RowText row_;
  bool row_ended_ = false;
  std::vector<RowText> rows_;
};

void onCell(void* bytes, std::size_t size, void* collector) {
  static_cast<CellCollector*>(collector)->cell({static_cast<const char*>(bytes), size});
}

void onRow(int, void* collector) { static_cast<CellCollector*>(collector)->endRow(); }

// Owns a libcsv parser.
class Parser {
 public:
  explicit Parser(char separator) {
    if (csv_init(&parser_, CSV_REPALL_NL) != 0) throw std::bad_alloc();
    csv_set_delim(&parser_, static_cast<unsigned char>(separator));
  }
  Parser(const Parser&) = delete;
  Parser& operator=(const Parser&) = delete;
  ~Parser() { csv_free(&parser_); }

  void feed(char byte, CellCollector& collector) {
    if (csv_parse(&parser_, &byte, 1, onCell, onRow, &collector) != 1) throw std::bad_alloc();
  }
  void finish(CellCollector& collector) {
    if (csv_fini(&parser_, onCell, onRow, &collector) != 0) throw std::bad_alloc();
  }

 private:
  csv_parser parser_ = {};
};

// Whether the file's last cell opens with a quote and has an odd number of quotes.
bool neverClosed(std::string_view last_cell) {
  const auto start = last_cell.find_first_not_of(" \t");
  return start != std::string_view::npos && last_cell[start] == '"' &&
         std::count(last_cell.begin(), last_cell.end(), '"') % 2 == 1;
}

// How well a separator cuts the lines: first by the number of lines with the wanted number of cells, then by
// the largest number of lines with equally many separators.
struct Fit {
  long long wanted = 0;  // lines with the wanted number of cells
  long long even = 0;    // lines with equally many separators
  int times = 0;         // separators in each of these lines
  friend auto operator<=>(const Fit&, const Fit&) = default;
};

Fit fitOf(std::string_view text, char separator, std::optional<int> columns) {
  std::map<int, long long> lines;  // by their number of separators
  for (const int count : separatorsPerLine(text, separator)) ++lines[count];
  Fit best;
  for (const auto& [times, count] : lines)
    if (times > 0) best = std::max(best, Fit{0, count, times});
  if (columns && *columns > 1 && lines.contains(*columns - 1)) best.wanted = lines[*columns - 1];
  return best;
}

char guessedSeparator(std::string_view text, std::optional<int> columns) {
  char best = ',';
  Fit best_fit = fitOf(text, ',', columns);
  for (const char candidate : {';', '\t'}) {
    const Fit fit = fitOf(text, candidate, columns);
    if (fit < best_fit || fit == Fit{}) continue;
    best = candidate;
    best_fit = fit;
  }
  return best;
}

// The separator that a first line "sep=;" declares, as some spreadsheets write it.
std::optional<char> declaredSeparator(std::string_view text) {
  if (!text.starts_with("sep=") || text.size() < 5) return std::nullopt;
  if (text.size() > 5 && text[5] != '\n') return std::nullopt;
  return text[4];
}

}  // namespace

CsvText csvText(std::string_view text, std::optional<int> columns) {
  if (const auto declared = declaredSeparator(text))
    return {text.substr(std::min<std::size_t>(6, text.size())), *declared, 2};
  return {text, guessedSeparator(text, columns), 1};
}

bool isSeparatorLine(const RowText& row) {
  return !row.cells.empty() && row.cells.front().text.starts_with("sep=") &&
         std::all_of(row.cells.begin() + 1, row.cells.end(),
                     [](const CellText& cell) { return cell.text.empty(); });
}

std::string withNewlines(const std::string& text) {
  std::string plain;
  plain.reserve(text.size());
  for (std::size_t k = 0; k < text.size(); ++k) {
    if (text[k] != '\r')
      plain += text[k];
    else if (k + 1 == text.size() || text[k + 1] != '\n')
      plain += '\n';
  }
  return plain;
}

std::vector<int> separatorsPerLine(std::string_view text, char separator) {
  std::vector<int> counts(1, 0);
  bool quoted = false;
  bool at_start = true;  // of a cell: only there a quote opens one
  for (const char c : text) {
    if (c == '"' && (quoted || at_start)) quoted = !quoted;
    at_start = !quoted && (c == separator || c == '\n' || (at_start && c == ' '));
    if (quoted) continue;
    if (c == separator) ++counts.back();
    if (c == '\n') counts.push_back(0);
  }
  return counts;
}

Result<std::vector<RowText>> rowsFromCsv(const CsvText& csv, const std::string& file) {
  CellCollector collector(file, csv.first_line);
  Parser parser(csv.separator);
  for (const char byte : csv.body) {
    const std::size_t before = collector.cellsInRow();
    parser.feed(byte, collector);
    collector.passed(byte, collector.cellsInRow() > before);
  }
  if (neverClosed(csv.body.substr(collector.cellStart())))
    return Result<std::vector<RowText>>::failure(collector.cellPlace(),
                                                 "the quote that opens here is never closed");
  parser.finish(collector);
  return Result<std::vector<RowText>>::success(collector.takeRows());
}

}  // namespace petalproof::plan
