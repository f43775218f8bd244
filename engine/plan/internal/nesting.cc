#include "engine/plan/internal/nesting.h"

#include "engine/plan/toml_lexer.h"
#include "engine/plan/utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::plan {
namespace {

// Far beyond what a plan needs, well within what the parser takes.
constexpr int deepest_list = 32;
constexpr int longest_key = 16;  // parts of a dotted key
constexpr int most_dotted_keys = 10'000;

// Walks over TOML just closely enough to tell keys, texts and comments apart.
class Walker {
 public:
  Walker(std::string_view text, const std::string& file) : text_(text), file_(&file) {}

  std::optional<Problem> walk() {
    while (at_ < text_.size() && !found_) step();
    return found_;
  }

 private:
  void step() {
    const char c = text_[at_];
    if (c == '#') return skipComment();
    if (c == '"' || c == '\'') return skipText();
    ++at_;
    if (c == '.') ++dots_;
    if (c == '=') return endKey();
    if (c == '[' || c == '{') return open(c);
    if (c == ']' || c == '}') return close(c);
    if (c == '\n') startLine();
    if (c == ',') dots_ = 0;
  }

  void startLine() {
    dots_ = 0;
    line_start_ = at_;
    ++line_;
  }

  void endKey() {
    if (dots_ >= longest_key) return report(fmt::format("a key of more than {} parts", longest_key));
    if (dots_ > 0 && ++dotted_keys_ > most_dotted_keys)
      report(fmt::format("more than {} keys with dots", most_dotted_keys));
    dots_ = 0;
  }

  void open(char c) {
    dots_ = 0;
    if (++depth_ > deepest_list)
      report(fmt::format("lists and tables within each other, more than {} deep", deepest_list));
    in_header_ = c == '[' && depth_ <= 2 && onlyBracketsBefore();
  }

  void close(char c) {
    depth_ = std::max(0, depth_ - 1);
    if (c == ']' && in_header_) endKey();
    in_header_ = false;
    dots_ = 0;
  }

  // "[wall]" and "[[shot]]" open a line, a list follows a key or another list.
  bool onlyBracketsBefore() const {
    const std::string_view before = text_.substr(line_start_, at_ - line_start_);
    return before.find_first_not_of(" \t[") == std::string_view::npos;
  }

  void skipComment() { at_ = std::min(text_.find('\n', at_), text_.size()); }

  void skipText() {
    const std::size_t end = endOfQuoted(text_, at_);
    for (; at_ < end; ++at_) {
      if (text_[at_] != '\n') continue;
      ++line_;
      line_start_ = at_ + 1;
    }
  }

  void report(std::string excess) {
    const auto column = characterCount(text_.substr(line_start_, at_ - 1 - line_start_)) + 1;
    found_ =
        Problem{{*file_, line_, static_cast<int>(column)}, fmt::format("{}: no plan needs that", excess)};
  }

  std::string_view text_;
  const std::string* file_;
  std::size_t at_ = 0;
  std::size_t line_start_ = 0;
  int line_ = 1;
  int depth_ = 0;
  int dots_ = 0;
  int dotted_keys_ = 0;
  bool in_header_ = false;
  std::optional<Problem> found_;
};

}  // namespace

std::optional<Problem> tooDeep(std::string_view text, const std::string& file) {
  return Walker(text, file).walk();
}

}  // namespace petalproof::plan
