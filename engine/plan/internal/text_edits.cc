#include "engine/plan/internal/text_edits.h"

#include "engine/plan/utf8.h"

#include <algorithm>

namespace petalproof::plan {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

// The end of the quoted text that begins at `at`.
std::size_t endOfQuoted(std::string_view piece, std::size_t at) {
  const char quote = piece[at];
  const std::string three(3, quote);
  const bool is_long = piece.substr(at, 3) == three;
  std::size_t i = at + (is_long ? 3 : 1);
  for (; i < piece.size(); ++i) {
    if (quote == '"' && piece[i] == '\\')
      ++i;
    else if (is_long ? piece.substr(i, 3) == three : piece[i] == quote)
      break;
  }
  return std::min(piece.size(), i + (is_long ? 3 : 1));
}

std::size_t endOfLine(std::string_view piece, std::size_t at) {
  std::size_t end = std::min(piece.find('\n', at), piece.size());
  while (end > at && piece[end - 1] == '\r') --end;
  return end;
}

}  // namespace

TextEdits::TextEdits(std::string_view text) : text_(text) {
  line_begins_.push_back(text.starts_with(byte_order_mark) ? byte_order_mark.size() : 0);
  for (std::size_t i = 0; i < text.size(); ++i)
    if (text[i] == '\n' && i + 1 < text.size()) line_begins_.push_back(i + 1);
  const std::size_t first = text.find('\n');
  if (first != std::string_view::npos && first > 0 && text[first - 1] == '\r') newline_ = "\r\n";
}

std::size_t TextEdits::byteAt(std::size_t line, std::size_t column) const {
  std::size_t at = lineBegin(line - 1);
  for (std::size_t passed = 1; passed < column && at < text_.size(); ++passed) {
    ++at;
    while (at < text_.size() && !startsCharacter(text_[at])) ++at;
  }
  return at;
}

std::size_t TextEdits::lineOf(std::size_t byte) const {
  const auto after = std::upper_bound(line_begins_.begin(), line_begins_.end(), byte);
  return after == line_begins_.begin() ? 0 : static_cast<std::size_t>(after - line_begins_.begin()) - 1;
}

std::size_t TextEdits::lineBegin(std::size_t line) const {
  return line < line_begins_.size() ? line_begins_[line] : text_.size();
}

std::string_view TextEdits::line(std::size_t line) const {
  return text_.substr(lineBegin(line), lineBegin(line + 1) - lineBegin(line));
}

void TextEdits::replace(std::size_t begin, std::size_t end, std::string with) {
  edits_.push_back({begin, end, std::move(with)});
}

std::string TextEdits::applied() const {
  auto edits = edits_;
  std::stable_sort(edits.begin(), edits.end(), [](const Edit& a, const Edit& b) {
    return a.begin != b.begin ? a.begin < b.begin : a.end < b.end;
  });
  std::string result;
  std::size_t at = 0;
  for (const Edit& edit : edits) {
    result.append(text_.substr(at, edit.begin - at)).append(edit.with);
    at = edit.end;
  }
  return result.append(text_.substr(at));
}

bool isBlank(std::string_view line) { return line.find_first_not_of(" \t\r\n") == std::string_view::npos; }

std::vector<std::string_view> commentsIn(std::string_view piece) {
  std::vector<std::string_view> comments;
  for (std::size_t at = 0; at < piece.size();) {
    if (piece[at] == '"' || piece[at] == '\'') {
      at = endOfQuoted(piece, at);
    } else if (piece[at] == '#') {
      const std::size_t end = endOfLine(piece, at);
      comments.push_back(piece.substr(at, end - at));
      at = end;
    } else {
      ++at;
    }
  }
  return comments;
}

bool hasComma(std::string_view piece) {
  for (std::size_t at = 0; at < piece.size(); ++at) {
    if (piece[at] == '#') at = endOfLine(piece, at);
    if (at < piece.size() && piece[at] == ',') return true;
  }
  return false;
}

}  // namespace petalproof::plan
