#include "engine/plan/internal/grid_text.h"
#include "engine/plan/internal/utf8.h"

#include <csv.h>

#include <algorithm>
#include <array>
#include <new>
#include <utility>

namespace petalproof {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

// Every line end as one newline.
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

// How often a separator stands in each line, outside of quotes.
std::vector<int> countsPerLine(std::string_view text, char separator) {
  std::vector<int> counts(1, 0);
  bool quoted = false;
  for (const char c : text) {
    if (c == '"') quoted = !quoted;
    if (quoted) continue;
    if (c == separator) ++counts.back();
    if (c == '\n') counts.push_back(0);
  }
  return counts;
}

struct Fit {
  long long lines_as_wide = 0;  // as the wall, or wider: the sheet's empty margin
  long long separators = 0;
  friend auto operator<=>(const Fit&, const Fit&) = default;
};

Fit fitOf(std::string_view text, char separator, std::optional<int> columns) {
  Fit fit;
  for (const int count : countsPerLine(text, separator)) {
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

// Takes libcsv's cells and rows, and knows where in the file each began, for it is fed byte by byte.
class CellCollector {
 public:
  CellCollector(std::string file, int first_line) : file_(std::move(file)), line_(first_line) { startRow(); }

  void cell(std::string_view text) { row_.cells.push_back({std::string(text), cell_place_}); }
  void endRow() {
    rows_.push_back(std::move(row_));
    row_ = {};
    row_ended_ = true;
  }

  // After each byte that was fed.
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
  // Of the cell that is being read, or of the one to come.
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

// libcsv's parser, freed at the end.
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

// A cell at the end of the file that opens with a quote and has an odd number of them.
bool neverClosed(std::string_view last_cell) {
  const auto start = last_cell.find_first_not_of(" \t");
  return start != std::string_view::npos && last_cell[start] == '"' &&
         std::count(last_cell.begin(), last_cell.end(), '"') % 2 == 1;
}

Result<std::vector<RowText>> parsed(std::string_view text, char separator, const std::string& file,
                                    int first_line) {
  CellCollector collector(file, first_line);
  Parser parser(separator);
  for (const char byte : text) {
    const std::size_t before = collector.cellsInRow();
    parser.feed(byte, collector);
    collector.passed(byte, collector.cellsInRow() > before);
  }
  if (neverClosed(text.substr(collector.cellStart())))
    return Result<std::vector<RowText>>::failure(collector.cellPlace(),
                                                 "the quote that opens here is never closed");
  parser.finish(collector);
  return Result<std::vector<RowText>>::success(collector.takeRows());
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

// "sep=;" in the first line: how some spreadsheets say what the separator is.
std::optional<char> declaredSeparator(std::string_view text) {
  if (!text.starts_with("sep=") || text.size() < 5) return std::nullopt;
  if (text.size() > 5 && text[5] != '\n') return std::nullopt;
  return text[4];
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
  auto found = parsed(body, separator, file, declared ? 2 : 1);
  if (!found) return Result<GridText>::failure(std::move(found.problems));
  dropMargin(*found.value, columns, rows);
  return Result<GridText>::success({std::move(*found.value), Place{file, 1, 1}});
}

}  // namespace petalproof
