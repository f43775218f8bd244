#pragma once
// Aligns rows of cells in columns, for the tables and lists on a terminal.

#include <string>
#include <vector>

namespace petalproof::report {

// Rows of cells in columns as wide as they need; columns of numbers stand on the right.
class TextTable {
 public:
  explicit TextTable(std::vector<bool> on_the_right) : on_the_right_(std::move(on_the_right)) {}

  void add(std::vector<std::string> row) { rows_.push_back(std::move(row)); }
  // Both add a line below the last row: a heading as it is, a remark farther in and wrapped.
  void heading(std::string text) { below(std::move(text), false); }
  void remark(std::string text) { below(std::move(text), true); }
  // Each row after `indent` blanks, two between columns, none at the end of a line.
  std::string lines(std::size_t indent) const;

 private:
  struct Below {
    std::string text;
    bool farther_in = false;
  };
  void below(std::string text, bool farther_in);
  std::vector<std::size_t> widths() const;

  std::vector<bool> on_the_right_;
  std::vector<std::vector<std::string>> rows_;
  std::vector<std::vector<Below>>
      below_;  // row by row; shorter than rows_ where the last rows have no lines below
};

}  // namespace petalproof::report
