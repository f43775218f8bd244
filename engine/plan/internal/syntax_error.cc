#include "engine/plan/internal/syntax_error.h"

#include "engine/plan/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

namespace petalproof::plan {
namespace {

// A piece of the parser's message and the advice for the maker. The first piece that a message contains
// counts.
struct Advice {
  std::string_view said;
  std::string_view meant;
};

constexpr std::string_view quotes_needed =
    "this is neither a number nor a text; a text needs double quotes around it, such as \"rose\"";
constexpr std::string_view length_needs_quotes =
    "this is no number; a length that is not a plain number needs quotes, such as \"7 1/4\" or \"12 in\"";

constexpr std::array advices = {
    Advice{"utf-8", "a character here isn't UTF-8; save the plan as UTF-8 text"},
    Advice{"expected value, saw '#'",
           "the value is missing: what follows # is a remark; a colour needs quotes, such as \"#b5382a\""},
    Advice{"expected value, saw", "the value after \"=\" is missing"},
    Advice{"expected 'true'", "this is no value; write true in small letters, or a text in double quotes"},
    Advice{"expected 'false'", "this is no value; write false in small letters, or a text in double quotes"},
    Advice{"could not determine value type", quotes_needed},
    Advice{"encountered end-of-file", "the file ends within a text, a list or a table that is never closed"},
    Advice{"dangling comma", "the comma before \"}\" is too much; take it away"},
    Advice{"inline table: expected key or closing '}', saw '\\n'",
           "a table in { } must stand on one line; put its end here"},
    Advice{"inline table: expected comma", "a comma or the closing \"}\" is missing"},
    Advice{"array: expected comma", "a comma or the closing \"]\" is missing"},
    Advice{"array: expected value", "there is a comma too much in this list; take it away"},
    Advice{"table header: expected ']'", "the closing \"]\" of the section's name is missing"},
    Advice{"blank bare keys", "the section's name is missing between the brackets"},
    Advice{"brackets must be contiguous", "the brackets of a section must stand together, such as [[bloom]]"},
    Advice{"expected a comment or whitespace, saw ','",
           "a number takes a decimal point, such as 0.5, not a comma"},
    Advice{"expected a comment or whitespace",
           "something is left over here; a line takes one key and its value, and a length such as "
           "\"7 1/4\" needs quotes"},
    Advice{"expected '='", "an \"=\" is missing; a line is a key, \"=\" and its value"},
    Advice{"expected keys, tables", "a line must start with a key, a [section] or a # remark"},
    Advice{"leading zeroes", "a number can't start with 0; take the zeroes away"},
    Advice{"floating-point: expected decimal digit",
           "a decimal point needs a digit on both sides, such as 0.5"},
    Advice{"integer: expected digit", length_needs_quotes},
    Advice{"floating-point: expected", length_needs_quotes},
    Advice{"escape sequence", "a backslash means something else in a text; write it twice, or / in a path"},
    Advice{"unicode scalar", "a backslash means something else in a text; write it twice, or / in a path"},
    Advice{"not representable", "this number is too large"},
    Advice{"could not be interpreted", "this number is too large"},
    Advice{"after '\\r'", "a carriage return stands alone here; save the plan with usual line ends"},
    Advice{"parsing date", "this reads like a date; a text needs double quotes around it"},
    Advice{"parsing time", "this reads like a time; a text needs double quotes around it"},
    Advice{"parsing key:", "the key here isn't whole; keys are letters, digits, - and _"},
};

std::string_view lineOf(std::string_view text, std::size_t number) {
  for (std::size_t line = 1; line < number; ++line) {
    const auto end = text.find('\n');
    if (end == std::string_view::npos) return {};
    text.remove_prefix(end + 1);
  }
  return text.substr(0, text.find('\n'));
}

// The part of a line before a column.
std::string_view before(std::string_view line, int column) {
  std::size_t end = 0;
  for (int passed = 0; end < line.size(); ++end)
    if (startsCharacter(line[end]) && ++passed == column) break;
  return line.substr(0, end);
}

// The name in "cannot redefine existing integer 'columns' as table".
std::optional<std::string_view> givenTwice(std::string_view description) {
  if (description.find("cannot redefine existing") == std::string_view::npos) return std::nullopt;
  const auto open = description.find('\'');
  const auto close = description.find('\'', open + 1);
  if (open == std::string_view::npos || close == std::string_view::npos) return std::nullopt;
  return description.substr(open + 1, close - open - 1);
}

// The parser points behind the key; people look for the key itself.
int columnOfKey(std::string_view before_error, std::string_view key, int column) {
  const auto last_part = key.substr(key.rfind('.') + 1);
  const auto found = before_error.rfind(last_part);
  if (found == std::string_view::npos || last_part.empty()) return column;
  return static_cast<int>(characterCount(before_error.substr(0, found))) + 1;
}

bool endsWithin(std::string_view line, std::string_view before_error) {
  const auto remainder = line.substr(before_error.size());
  return remainder.empty() || remainder == "\r";
}

std::string messageFor(std::string_view description, std::string_view line, std::string_view before_error) {
  const bool in_text = description.find("ontrol characters") != std::string_view::npos;
  if (in_text && endsWithin(line, before_error))
    return "the text in this line isn't closed; put a quote at its end";
  if (in_text) return "a character that can't be seen stands in this text; take it away";
  const std::string_view after = line.substr(before_error.size());
  for (const std::string_view curly : {"\u201c", "\u201d", "\u2018", "\u2019"})
    if (after.starts_with(curly))
      return "these quotes are curly ones; a text needs plain double quotes, \"rose\"";
  for (const Advice& advice : advices)
    if (description.find(advice.said) != std::string_view::npos) return std::string(advice.meant);
  return fmt::format("this can't be read as TOML: {}", description);
}

}  // namespace

Problem syntaxProblem(const toml::parse_error& error, std::string_view text, const std::string& file) {
  const auto& at = error.source().begin;
  const auto column = static_cast<int>(at.column);
  const std::string_view line = lineOf(text, at.line);
  const std::string_view before_error = before(line, column);
  Place place{file, static_cast<int>(at.line), column};
  if (const auto key = givenTwice(error.description())) {
    place.column = columnOfKey(before_error, *key, column);
    return {place, fmt::format("\"{}\" is given a second time; keep one of them", *key)};
  }
  return {place, messageFor(error.description(), line, before_error)};
}

}  // namespace petalproof::plan
