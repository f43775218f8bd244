#include "engine/report/internal/text_table.h"

#include "engine/report/internal/text_columns.h"

#include <algorithm>

namespace petalproof::report {

void TextTable::below(std::string text, bool farther_in) {
  below_.resize(rows_.size());
  below_.back().push_back({std::move(text), farther_in});
}

std::vector<std::size_t> TextTable::widths() const {
  std::vector<std::size_t> widths(on_the_right_.size(), 0);
  for (const auto& row : rows_)
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], widthOf(row[i]));
  return widths;
}

std::string TextTable::lines(std::size_t indent) const {
  const std::vector<std::size_t> wide = widths();
  std::string lines;
  for (std::size_t r = 0; r < rows_.size(); ++r) {
    std::string line(indent, ' ');
    for (std::size_t i = 0; i < rows_[r].size(); ++i) {
      const std::string blanks(wide[i] - widthOf(rows_[r][i]), ' ');
      if (i > 0) line += "  ";
      line += on_the_right_[i] ? blanks + rows_[r][i] : rows_[r][i] + blanks;
    }
    line.erase(line.find_last_not_of(' ') + 1);
    lines += line + "\n";
    if (r >= below_.size()) continue;
    for (const Below& below : below_[r])
      lines += below.farther_in ? hanging(std::string(indent + wide.front() + 2, ' '), below.text)
                                : below.text + "\n";
  }
  return lines;
}

}  // namespace petalproof::report
