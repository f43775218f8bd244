#include "engine/plan/internal/field.h"

#include "engine/base/length_text.h"
#include "engine/plan/internal/table_reader.h"
#include "engine/plan/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::plan {
namespace {

constexpr std::size_t longest_path = 1'000;  // characters
// Messages don't name the upper end of a range that ends here or later.
constexpr double no_upper_end = 1e9;

std::string_view nameInWords(Units units) {
  switch (units) {
    case Units::inch: return "inches";
    case Units::centimetre: return "centimetres";
    case Units::millimetre: return "millimetres";
  }
  return "millimetres";
}

// The number with its decimal point, so that 2.0 doesn't look like a whole number.
std::string decimalText(double value) {
  const std::string text = numberText(value);
  return text.find_first_not_of("-0123456789") == std::string::npos ? text + ".0" : text;
}

// A value in the words of a message.
std::string inWords(const toml::node& node) {
  if (const auto* text = node.as_string()) return "the text " + inQuotes(text->get());
  if (const auto* whole = node.as_integer()) return fmt::format("{}", whole->get());
  if (const auto* number = node.as_floating_point()) return decimalText(number->get());
  if (const auto* flag = node.as_boolean()) return flag->get() ? "true" : "false";
  if (node.is_array_of_tables()) return "a list of tables";
  if (node.is_array()) return "a list";
  if (node.is_table()) return "a table of keys";
  return "a date or time";
}

std::string inWords(NumberRange range) {
  if (range.max >= no_upper_end)
    return range.above_min ? fmt::format("more than {}", range.min) : fmt::format("{} or more", range.min);
  if (range.above_min) return fmt::format("more than {} and at most {}", range.min, range.max);
  return fmt::format("from {} to {}", range.min, range.max);
}

std::string inWords(WholeRange range) {
  if (static_cast<double>(range.max) >= no_upper_end) return fmt::format("{} or more", range.min);
  return fmt::format("from {} to {}", range.min, range.max);
}

std::optional<double> asNumber(const toml::node& node) {
  if (const auto* whole = node.as_integer()) return static_cast<double>(whole->get());
  if (const auto* number = node.as_floating_point()) return number->get();
  return std::nullopt;
}

bool hasControlCharacter(std::string_view text) {
  return std::any_of(text.begin(), text.end(),
                     [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
}

}  // namespace

void Field::wrong(std::string message) const { findings_->problem(place(), std::move(message)); }

void Field::mustBe(std::string_view meaning) const {
  wrong(fmt::format("\"{}\" must be {}, not {}", key_, meaning, plan::inWords(*node_)));
}

std::string Field::inWords() const { return plan::inWords(*node_); }

std::optional<std::string> Field::text() const {
  if (!given()) return std::nullopt;
  if (const auto* text = node_->as_string()) return text->get();
  mustBe("a text in quotes");
  return std::nullopt;
}

std::optional<std::string> Field::label() const {
  auto found = text();
  return found && hasLength(*found, longest_plan_title) ? found : std::nullopt;
}

std::optional<std::string> Field::name() const { return onOneLine(longest_plan_name); }

std::optional<std::string> Field::path() const { return onOneLine(longest_path); }

bool Field::hasLength(const std::string& text, std::size_t most) const {
  const std::size_t characters = characterCount(text);
  if (characters <= most) return true;
  wrong(fmt::format("\"{}\" has {} characters, {} are the most", key_, characters, most));
  return false;
}

std::optional<std::string> Field::onOneLine(std::size_t most) const {
  auto found = text();
  if (!found || !hasLength(*found, most)) return std::nullopt;
  std::string_view why;
  if (found->empty())
    why = "is empty; give it a name";
  else if (hasControlCharacter(*found))
    why = "must be on one line, without tabs";
  else if (found->front() == ' ' || found->back() == ' ')
    why = "has a space at its start or end; take it away";
  if (why.empty()) return found;
  wrong(fmt::format("\"{}\" {}", key_, why));
  return std::nullopt;
}

std::optional<bool> Field::flag() const {
  if (!given()) return std::nullopt;
  if (const auto* flag = node_->as_boolean()) return flag->get();
  mustBe("true or false");
  return std::nullopt;
}

std::optional<double> Field::number(NumberRange range, std::string_view unit) const {
  if (!given()) return std::nullopt;
  const auto value = asNumber(*node_);
  const std::string of_unit = unit.empty() ? "" : fmt::format(" {}", unit);
  if (!value)
    mustBe(fmt::format("a number{}", unit.empty() ? "" : fmt::format(" of {}", unit)));
  else if (!range.holds(*value))  // also what is not a number, or infinite
    wrong(fmt::format("\"{}\" must be {}{}, not {}", key_, plan::inWords(range), of_unit,
                      plan::inWords(*node_)));
  else
    return value;
  return std::nullopt;
}

std::optional<long long> Field::longWhole(WholeRange range) const {
  if (!given()) return std::nullopt;
  const auto* whole = node_->as_integer();
  if (!whole)
    mustBe("a whole number");
  else if (whole->get() < range.min || whole->get() > range.max)
    wrong(fmt::format("\"{}\" must be {}, not {}", key_, plan::inWords(range), whole->get()));
  else
    return whole->get();
  return std::nullopt;
}

std::optional<int> Field::whole(WholeRange range) const {
  const auto value = longWhole(range);
  return value ? std::optional(static_cast<int>(*value)) : std::nullopt;
}

bool Field::lengthFits(Length length, LengthRange range) const {
  const double mm = toMillimetres(length, units_);
  std::string why;
  if (!std::isfinite(mm))
    why = "must be a finite length";
  else if (range == LengthRange::positive && mm <= 0)
    why = "must be more than 0";
  else if (range == LengthRange::zeroOrMore && mm < 0)
    why = "must be 0 or more";
  else if (range == LengthRange::positive && mm < shortest_mm)
    why = "must be at least 0.01 mm";
  else if (std::abs(mm) > longest_mm)
    why = "must be under 1 km";
  if (why.empty()) return true;
  wrong(fmt::format("\"{}\" {}, not {} {}", key_, why, numberText(length.value), unitName(units_)));
  return false;
}

std::optional<Length> Field::length(LengthRange range) const {
  if (!given()) return std::nullopt;
  std::optional<Length> found;
  if (const auto number = asNumber(*node_)) {
    found = Length{*number};
  } else if (const auto* text = node_->as_string()) {
    found = lengthFromText(text->get(), units_);
    if (!found)
      wrong(
          fmt::format("\"{}\" is no length: {}; write a number of {}, or a text such as \"7 1/4\", "
                      "\"8 ft 4 in\" or \"60 cm\"",
                      key_, inQuotes(text->get()), nameInWords(units_)));
  } else {
    mustBe(fmt::format("a length, a number of {} or a text such as \"7 1/4 in\"", nameInWords(units_)));
  }
  return found && lengthFits(*found, range) ? found : std::nullopt;
}

std::optional<Colour> Field::colour() const {
  if (!given()) return std::nullopt;
  const auto* text = node_->as_string();
  const auto found = text ? colourFromHex(text->get()) : std::nullopt;
  if (!text)
    mustBe("a colour such as \"#b5382a\"");
  else if (!found)
    wrong(fmt::format("\"{}\" is no colour: {}; write # and six digits from 0 to f, such as \"#b5382a\"",
                      key_, inQuotes(text->get())));
  return found;
}

std::optional<std::size_t> Field::choice(std::string_view kind,
                                         const std::vector<std::string>& choices) const {
  const auto chosen = text();
  if (!chosen) return std::nullopt;
  const auto found = std::find(choices.begin(), choices.end(), *chosen);
  if (found != choices.end()) return static_cast<std::size_t>(found - choices.begin());
  const std::string tail = findings_->unknownTail(*chosen, choices);
  wrong(fmt::format("unknown {} {}{}", kind, inQuotes(*chosen), tail));
  return std::nullopt;
}

std::optional<std::vector<Field>> Field::list(std::string_view meaning) const {
  if (!given()) return std::nullopt;
  const auto* values = node_->as_array();
  if (!values) {
    mustBe(meaning);
    return std::nullopt;
  }
  std::vector<Field> fields;
  for (const toml::node& value : *values) fields.emplace_back(*findings_, units_, key_, &value);
  return fields;
}

std::optional<std::vector<Field>> Field::listOf(std::size_t count, std::string_view meaning) const {
  auto fields = list(meaning);
  if (!fields || fields->size() == count) return fields;
  wrong(fmt::format("\"{}\" must be {}, not a list of {}", key_, meaning, fields->size()));
  return std::nullopt;
}

std::optional<TableReader> Field::table(std::string owner, std::string_view meaning) const {
  if (!given()) return std::nullopt;
  if (const auto* table = node_->as_table()) return TableReader(*findings_, units_, *table, std::move(owner));
  mustBe(meaning);
  return std::nullopt;
}

}  // namespace petalproof::plan
