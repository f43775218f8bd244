#include "engine/base/length_text.h"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <utility>
#include <vector>

namespace petalproof {
namespace {

constexpr std::size_t longest_text = 100;  // bytes; no length is that long, and reading stays cheap
constexpr double mm_per_inch = millimetresPer(Units::inch);
constexpr double inches_told_in_halves = 36;  // people pace longer distances in whole inches only

constexpr std::array<std::pair<std::string_view, std::string_view>, 28> plain_characters{{
    {"\u2018", "'"},     {"\u2019", "'"},     {"\u2032", "'"},     {"\u201c", "\""},    {"\u201d", "\""},
    {"\u2033", "\""},    {"''", "\""},        {"\u2212", "-"},     {"\u2013", "-"},     {"\u2010", "-"},
    {"\u2011", "-"},     {"\u00a0", " "},     {"\u2009", " "},     {"\u202f", " "},     {"\t", " "},
    {"\u2044", "/"},     {"\u00bd", " 1/2 "}, {"\u00bc", " 1/4 "}, {"\u00be", " 3/4 "}, {"\u215b", " 1/8 "},
    {"\u215c", " 3/8 "}, {"\u215d", " 5/8 "}, {"\u215e", " 7/8 "}, {"\u2153", " 1/3 "}, {"\u2154", " 2/3 "},
    {"\u00d7", "x"},     {"\n", " "},         {"\r", " "},
}};

// Typographic marks, spaces and fraction characters as a keyboard writes them; ASCII in lower case.
std::string plainText(std::string_view text) {
  std::string plain;
  while (!text.empty()) {
    bool replaced = false;
    for (const auto& [from, to] : plain_characters) {
      if (text.substr(0, from.size()) != from) continue;
      plain += to;
      text.remove_prefix(from.size());
      replaced = true;
      break;
    }
    if (replaced) continue;
    const char c = text.front();
    plain += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    text.remove_prefix(1);
  }
  return plain;
}

bool isDigit(char c) { return c >= '0' && c <= '9'; }
bool isLetter(char c) { return c >= 'a' && c <= 'z'; }

// Reads a text from its front. Each function takes the piece it recognises, or nothing.
class Scanner {
 public:
  explicit Scanner(std::string_view text) : left_(text) {}

  bool atEnd() const { return left_.empty(); }

  bool skipSpace() {
    const bool skipped = !left_.empty() && left_.front() == ' ';
    while (!left_.empty() && left_.front() == ' ') left_.remove_prefix(1);
    return skipped;
  }

  bool take(char c) {
    if (left_.empty() || left_.front() != c) return false;
    left_.remove_prefix(1);
    return true;
  }

  std::string_view takeDigits() { return takeWhile(isDigit); }
  std::string_view takeWord() { return takeWhile(isLetter); }

 private:
  template <class Accept>
  std::string_view takeWhile(Accept accept) {
    std::size_t count = 0;
    while (count < left_.size() && accept(left_[count])) ++count;
    const std::string_view taken = left_.substr(0, count);
    left_.remove_prefix(count);
    return taken;
  }

  std::string_view left_;
};

double numberFromDigits(const std::string& digits) {
  double value = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), value);
  return value;
}

struct Number {
  double value = 0;
  bool whole = false;
};

// "/8" after its numerator.
std::optional<double> fraction(Scanner& text, std::string_view numerator) {
  if (numerator.empty() || !text.take('/')) return std::nullopt;
  const std::string_view denominator = text.takeDigits();
  const double divisor = numberFromDigits(std::string(denominator));
  if (denominator.empty() || divisor == 0) return std::nullopt;
  return numberFromDigits(std::string(numerator)) / divisor;
}

// Reads the fraction behind a whole number: "-1/4" or " 1/4". A fraction of 1 or more is a typing error and
// isn't taken.
std::optional<double> fractionAfterWhole(Scanner& text) {
  Scanner ahead = text;
  if (!ahead.take('-') && !ahead.skipSpace()) return std::nullopt;
  const auto part = fraction(ahead, ahead.takeDigits());
  if (!part || *part >= 1) return std::nullopt;
  text = ahead;
  return part;
}

// "1,200" may mean 1200 or 1.2: not taken.
bool ambiguousComma(std::string_view whole, std::string_view decimals) {
  return decimals.size() == 3 && !whole.empty() && whole != "0";
}

std::optional<double> decimal(std::string_view whole, std::string_view decimals) {
  if (decimals.empty()) return std::nullopt;
  return numberFromDigits(fmt::format("{}.{}", whole.empty() ? "0" : whole, decimals));
}

// "7", "7.25", "7,25", ".5", "3/8", "7 1/4", "7-1/4".
std::optional<Number> number(Scanner& text) {
  const std::string_view whole = text.takeDigits();
  if (text.take('.')) {
    const auto value = decimal(whole, text.takeDigits());
    return value ? std::optional(Number{*value, false}) : std::nullopt;
  }
  if (whole.empty()) return std::nullopt;
  if (text.take(',')) {
    const std::string_view decimals = text.takeDigits();
    const auto value = ambiguousComma(whole, decimals) ? std::nullopt : decimal(whole, decimals);
    return value ? std::optional(Number{*value, false}) : std::nullopt;
  }
  Scanner ahead = text;
  if (const auto part = fraction(ahead, whole)) {
    text = ahead;
    return Number{*part, false};
  }
  const double value = numberFromDigits(std::string(whole));
  const auto part = fractionAfterWhole(text);
  return part ? Number{value + *part, false} : Number{value, true};
}

enum class Unit { none, inch, foot, millimetre, centimetre, metre };

std::optional<Unit> unitFromWord(std::string_view word) {
  constexpr std::array<std::pair<std::string_view, Unit>, 19> words{{
      {"", Unit::none},
      {"in", Unit::inch},
      {"inch", Unit::inch},
      {"inches", Unit::inch},
      {"ft", Unit::foot},
      {"foot", Unit::foot},
      {"feet", Unit::foot},
      {"mm", Unit::millimetre},
      {"millimetre", Unit::millimetre},
      {"millimetres", Unit::millimetre},
      {"millimeter", Unit::millimetre},
      {"millimeters", Unit::millimetre},
      {"cm", Unit::centimetre},
      {"centimetre", Unit::centimetre},
      {"centimetres", Unit::centimetre},
      {"centimeter", Unit::centimetre},
      {"centimeters", Unit::centimetre},
      {"m", Unit::metre},
      {"metre", Unit::metre},
  }};
  for (const auto& [text, unit] : words)
    if (text == word) return unit;
  if (word == "metres" || word == "meter" || word == "meters") return Unit::metre;
  return std::nullopt;
}

std::optional<Unit> unit(Scanner& text) {
  text.skipSpace();
  if (text.take('\'')) return Unit::foot;
  if (text.take('"')) return Unit::inch;
  const auto found = unitFromWord(text.takeWord());
  if (found && *found != Unit::none) text.take('.');  // "in.", "ft."
  return found;
}

struct Part {
  Number number;
  Unit unit = Unit::none;
};

std::optional<std::vector<Part>> parts(Scanner& text) {
  std::vector<Part> found;
  for (text.skipSpace(); !text.atEnd(); text.skipSpace()) {
    const auto value = number(text);
    if (!value) return std::nullopt;
    const auto named = unit(text);
    if (!named || found.size() == 2) return std::nullopt;
    found.push_back({*value, *named});
  }
  return found;
}

// A length in the smaller of the units it was written in, so that "8 ft 4 in" is exactly 100 in.
struct InUnit {
  double value = 0;
  Units units = Units::inch;
};

InUnit single(const Part& part, Units plan_units) {
  const double value = part.number.value;
  switch (part.unit) {
    case Unit::none: return {value, plan_units};
    case Unit::inch: return {value, Units::inch};
    case Unit::foot: return {value * 12, Units::inch};
    case Unit::millimetre: return {value, Units::millimetre};
    case Unit::centimetre: return {value, Units::centimetre};
    case Unit::metre: return {value * 100, Units::centimetre};
  }
  return {value, plan_units};
}

// "8 ft 4 in", "8'4", "1 m 20 cm", "1 m 20".
std::optional<InUnit> pair(const Part& large, const Part& small) {
  if (!large.number.whole) return std::nullopt;
  const bool bare = small.unit == Unit::none;
  if (large.unit == Unit::foot && (bare || small.unit == Unit::inch))
    return InUnit{large.number.value * 12 + small.number.value, Units::inch};
  if (large.unit == Unit::metre && (bare || small.unit == Unit::centimetre))
    return InUnit{large.number.value * 100 + small.number.value, Units::centimetre};
  return std::nullopt;
}

std::optional<InUnit> sum(const std::vector<Part>& lengths, Units plan_units) {
  if (lengths.size() == 1) return single(lengths[0], plan_units);
  if (lengths.size() == 2) return pair(lengths[0], lengths[1]);
  return std::nullopt;
}

double converted(InUnit length, Units units) {
  if (length.units == units) return length.value;
  return length.value * millimetresPer(length.units) / millimetresPer(units);
}

// "7 1/4" from 29 quarters.
std::string wholeAndFraction(long long count, long long parts_per_unit) {
  const long long whole = count / parts_per_unit;
  long long numerator = count % parts_per_unit;
  long long denominator = parts_per_unit;
  for (; numerator != 0 && numerator % 2 == 0; numerator /= 2) denominator /= 2;
  if (numerator == 0) return fmt::format("{}", whole);
  if (whole == 0) return fmt::format("{}/{}", numerator, denominator);
  return fmt::format("{} {}/{}", whole, numerator, denominator);
}

// The smallest mark of a tape, and its name in texts.
struct OnTape {
  double per_step_mm;
  std::string_view smallest;
};

OnTape tapeOf(Units units) {
  switch (units) {
    case Units::inch: return {mm_per_inch / 8, "1/8"};
    case Units::centimetre: return {1.0, "0.1"};
    case Units::millimetre: return {1.0, "1"};
  }
  return {1.0, "1"};
}

std::string stepsText(long long steps, Units units) {
  if (units == Units::inch) return wholeAndFraction(steps, 8);
  if (units == Units::centimetre && steps != 0) return fmt::format("{}.{}", steps / 10, steps % 10);
  return fmt::format("{}", steps);
}

}  // namespace

std::optional<Length> lengthFromText(std::string_view text, Units units) {
  if (text.size() > longest_text) return std::nullopt;
  const std::string plain = plainText(text);
  Scanner scanner(plain);
  scanner.skipSpace();
  const bool negative = scanner.take('-');
  const auto lengths = parts(scanner);
  if (!lengths) return std::nullopt;
  const auto length = sum(*lengths, units);
  if (!length) return std::nullopt;
  const double value = converted(*length, units);
  return Length{negative && value != 0 ? -value : value};
}

std::string_view unitName(Units units) {
  switch (units) {
    case Units::inch: return "in";
    case Units::centimetre: return "cm";
    case Units::millimetre: return "mm";
  }
  return "mm";
}

std::string tapeNumber(double length_mm, Units units) {
  const OnTape tape = tapeOf(units);
  const long long steps = std::llround(std::abs(length_mm) / tape.per_step_mm);
  if (steps == 0) return length_mm == 0 ? "0" : fmt::format("under {}", tape.smallest);
  return fmt::format("{}{}", length_mm < 0 ? "-" : "", stepsText(steps, units));
}

std::string tapeText(double length_mm, Units units) {
  return fmt::format("{} {}", tapeNumber(length_mm, units), unitName(units));
}

std::string walkText(double length_mm, Units units) {
  if (units != Units::inch) return fmt::format("{:.2f} m", length_mm / 1000);
  const double inches = std::abs(length_mm) / mm_per_inch;
  const long long halves =
      inches < inches_told_in_halves ? std::llround(inches * 2) : std::llround(inches) * 2;
  const std::string sign = length_mm < 0 && halves != 0 ? "-" : "";
  const long long feet = halves / 24;
  const std::string inch_text = wholeAndFraction(halves % 24, 2);
  if (feet == 0) return fmt::format("{}{} in", sign, inch_text);
  if (halves % 24 == 0) return fmt::format("{}{} ft", sign, feet);
  return fmt::format("{}{} ft {} in", sign, feet, inch_text);
}

}  // namespace petalproof
