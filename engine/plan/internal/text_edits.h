#pragma once
// Replaces pieces of a text and leaves everything else byte for byte. Changes to a plan's own text are made
// of these edits.

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::plan {

class TextEdits {
 public:
  explicit TextEdits(std::string_view text);  // keeps a view of the text

  // The byte at a place as a TOML reader counts it: lines and characters from 1, without a byte order mark.
  std::size_t byteAt(std::size_t line, std::size_t column) const;
  std::size_t lineOf(std::size_t byte) const;     // from 0
  std::size_t lineBegin(std::size_t line) const;  // of a line past the last: the end
  std::string_view line(std::size_t line) const;  // with its end
  std::size_t lines() const { return line_begins_.size(); }
  std::string_view text() const { return text_; }
  std::string_view newline() const { return newline_; }  // as the text's first line ends

  // Bytes from `begin` up to `end`; pieces don't overlap. Of two insertions at the same place, the
  // later stands behind the earlier.
  void replace(std::size_t begin, std::size_t end, std::string with);
  std::string applied() const;

 private:
  struct Edit {
    std::size_t begin;
    std::size_t end;
    std::string with;
  };
  std::string_view text_;
  std::vector<std::size_t> line_begins_;
  std::string_view newline_ = "\n";
  std::vector<Edit> edits_;
};

bool isBlank(std::string_view line);

}  // namespace petalproof::plan
