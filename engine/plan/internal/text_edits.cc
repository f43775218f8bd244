#include "engine/plan/internal/text_edits.h"

#include "engine/plan/utf8.h"

#include <algorithm>

namespace petalproof::plan {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

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

}  // namespace petalproof::plan
