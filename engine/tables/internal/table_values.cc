#include "engine/tables/internal/table_values.h"

#include "engine/base/length_text.h"
#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <vector>

namespace petalproof::tables {
namespace {

constexpr std::size_t longest_value = 80;  // bytes; longer cells are remarks

bool allDigits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), isDigit);
}

bool isMonth(std::string_view word) {
  constexpr std::array<std::string_view, 12> months{"january",   "february", "march",    "april",
                                                    "may",       "june",     "july",     "august",
                                                    "september", "october",  "november", "december"};
  return word.size() >= 3 && std::any_of(months.begin(), months.end(), [&](std::string_view month) {
           return month.starts_with(word) || (month == "september" && word == "sept");
         });
}

int smallNumber(std::string_view digits) {
  int value = 0;
  const auto end = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  return end.ec == std::errc() ? value : 1'000'000;
}

// "4-Mar", "Mar-26", "4 March 2026".
bool namesMonth(const std::vector<std::string>& words) {
  const auto months =
      std::count_if(words.begin(), words.end(), [](const auto& word) { return isMonth(word); });
  const auto numbers =
      std::count_if(words.begin(), words.end(), [](const auto& word) { return allDigits(word); });
  return months == 1 && numbers >= 1 && static_cast<std::size_t>(months + numbers) == words.size();
}

// "04/03/2026", "2026-03-04", "4.3.2026", with or without a time after it.
bool isNumericDate(std::string_view text) {
  std::vector<std::string> parts;
  char between = 0;
  for (const char c : text.substr(0, text.find(' '))) {
    if (isDigit(c)) {
      if (parts.empty()) parts.emplace_back();
      parts.back() += c;
      continue;
    }
    if ((c != '/' && c != '-' && c != '.') || (between != 0 && c != between) || parts.empty()) return false;
    between = c;
    parts.emplace_back();
  }
  if (parts.size() != 3) return false;
  std::array<int, 3> number{};
  for (std::size_t k = 0; k < 3; ++k) number[k] = allDigits(parts[k]) ? smallNumber(parts[k]) : 0;
  const bool year_first = parts[0].size() == 4;
  const bool year_last = parts[2].size() == 4 || parts[2].size() == 2;
  const int a = number[year_first ? 1 : 0];
  const int b = number[year_first ? 2 : 1];
  const bool day_and_month = a >= 1 && b >= 1 && std::min(a, b) <= 12 && std::max(a, b) <= 31;
  return (year_first || year_last) && day_and_month;
}

std::string_view trimmed(std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  return text;
}

std::string replacedAll(std::string text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
  return text;
}

// Takes words off both ends of the text; returns whether a word was there.
bool takeOffWords(std::string& text, const std::vector<std::string_view>& words) {
  bool taken = false;
  for (bool again = true; again;) {
    again = false;
    for (const auto word : words) {
      const std::string_view view = trimmed(text);
      if (view.size() <= word.size()) continue;
      if (view.starts_with(word))
        text = std::string(trimmed(view.substr(word.size())));
      else if (view.ends_with(word))
        text = std::string(trimmed(view.substr(0, view.size() - word.size())));
      else
        continue;
      taken = again = true;
    }
  }
  return taken;
}

// The length in another unit, rounded to a thousandth: finer than any scissors cut.
Length converted(Length length, Units from, Units to) {
  if (from == to) return length;
  return {std::round(length.value * millimetresPer(from) / millimetresPer(to) * 1000) / 1000};
}

std::optional<Length> lengthIn(std::string_view text, Units cell_units, Units units) {
  const Units read_in = unitsNamed(text).value_or(cell_units);
  const auto length = lengthFromText(text, read_in);
  return length && length->value > 0 ? std::optional(converted(*length, read_in, units)) : std::nullopt;
}

// The two numbers of "15-17", "15 to 17", "10 x 4"; the unit after the second counts for both.
std::optional<std::pair<Length, Length>> two(std::string_view text, std::string_view between,
                                             Units cell_units, Units units) {
  const auto at = text.find(between);
  if (at == std::string_view::npos) return std::nullopt;
  const Units of_both = unitsNamed(text).value_or(cell_units);
  const auto first = lengthIn(trimmed(text.substr(0, at)), of_both, units);
  const auto second = lengthIn(trimmed(text.substr(at + between.size())), of_both, units);
  return first && second ? std::optional(std::pair(*first, *second)) : std::nullopt;
}

std::optional<SizeText> rangeFromText(const std::string& text, Units cell_units, Units units) {
  for (const std::string_view between : {" to ", "-", "\u2013"}) {
    const auto found = two(text, between, cell_units, units);
    if (!found || found->first >= found->second) continue;
    const double middle = (found->first.value + found->second.value) / 2;
    return SizeText{{middle}, std::nullopt, fmt::format("the middle of {}", text)};
  }
  return std::nullopt;
}

// The plan unit for a unit's word: metres are written in centimetres, feet in inches.
std::optional<Units> unitsFromWord(std::string_view word) {
  constexpr std::array<std::string_view, 6> inches{"in", "inch", "inches", "ft", "foot", "feet"};
  constexpr std::array<std::string_view, 9> centimetres{
      "cm", "centimetre", "centimetres", "centimeter", "centimeters", "m", "metre", "metres", "meters"};
  constexpr std::array<std::string_view, 5> millimetres{"mm", "millimetre", "millimetres", "millimeter",
                                                        "millimeters"};
  const auto among = [&](const auto& words) {
    return std::find(words.begin(), words.end(), word) != words.end();
  };
  if (among(inches)) return Units::inch;
  if (among(centimetres)) return Units::centimetre;
  return among(millimetres) ? std::optional(Units::millimetre) : std::nullopt;
}

std::optional<int> numberWord(std::string_view text) {
  constexpr std::array<std::string_view, 13> words{"none", "one",    "two",   "three", "four",
                                                   "five", "six",    "seven", "eight", "nine",
                                                   "ten",  "eleven", "twelve"};
  const auto* found = std::find(words.begin(), words.end(), text);
  return found == words.end() ? std::nullopt : std::optional(static_cast<int>(found - words.begin()));
}

// The digits of "12", "12.0", "1,200" and "1 200"; a mark between thousands may have meant something else:
// `doubtful`.
std::optional<std::string> wholeNumber(std::string_view plain, bool& doubtful) {
  std::string digits;
  for (std::size_t k = 0; k < plain.size(); ++k) {
    const bool mark = plain[k] == '.' || plain[k] == ',' || plain[k] == ' ';
    if (!mark && !isDigit(plain[k])) return std::nullopt;
    if (!mark) digits += plain[k];
    if (!mark) continue;
    const std::string_view behind = plain.substr(k + 1);
    const bool zeros = behind.size() <= 2 && behind.find_first_not_of('0') == std::string_view::npos;
    if (zeros && !digits.empty() && plain[k] != ' ') break;  // "12.0"
    if (behind.size() < 3 || digits.empty() || digits.size() > 3) return std::nullopt;
    if (!allDigits(behind.substr(0, 3)) || (behind.size() > 3 && isDigit(behind[3]))) return std::nullopt;
    doubtful = true;
  }
  if (digits.empty() || digits.size() > 6) return std::nullopt;
  return digits;
}

}  // namespace

bool looksLikeDate(std::string_view text) {
  return text.size() <= longest_value && (namesMonth(wordsOf(text)) || isNumericDate(text));
}

std::optional<Units> unitsNamed(std::string_view text) {
  std::string word;
  for (const char c : lowerCase(text) + " ") {
    if (c >= 'a' && c <= 'z') {
      word += c;
      continue;
    }
    if (const auto units = unitsFromWord(word)) return units;
    word.clear();
  }
  for (const std::string_view mark : {"\"", "'", "\u2033", "\u2032", "\u201d", "\u2019"})
    if (text.find(mark) != std::string_view::npos) return Units::inch;
  return std::nullopt;
}

std::optional<SizeText> sizeFromText(std::string_view text, Units cell_units, Units units) {
  if (text.size() > longest_value) return std::nullopt;
  std::string plain = replacedAll(lowerCase(text), "\u00d7", "x");
  plain = replacedAll(replacedAll(plain, "\u00d8", ""), "\u00f8", "");
  takeOffWords(plain, {"diameter", "diam.", "diam", "dia.", "dia", "across", "wide", "long", "each"});
  const bool about =
      takeOffWords(plain, {"about", "approx.", "approx", "ca.", "circa", "~", "\u2248", "+/-"});
  const std::string why = about ? "about" : "";
  if (const auto length = lengthIn(plain, cell_units, units)) return SizeText{*length, std::nullopt, why};
  if (const auto both = two(plain, "x", cell_units, units))
    return SizeText{std::max(both->first, both->second), std::min(both->first, both->second), why};
  return rangeFromText(plain, cell_units, units);
}

std::optional<CountText> countFromText(std::string_view text) {
  if (text.size() > longest_value) return std::nullopt;
  std::string plain = lowerCase(trimmed(text));
  CountText found;
  found.per_panel = takeOffWords(plain, {"per panel", "a panel", "each panel", "/panel", "/ panel"});
  found.about = takeOffWords(plain, {"about", "approx.", "approx", "ca.", "~", "\u2248"});
  takeOffWords(plain,
               {"pieces", "piece", "pcs.", "pcs", "pc", "each", "ea.", "ea", "nos", "flowers", "blooms"});
  if (!numberWord(plain)) takeOffWords(plain, {"x", "\u00d7"});  // "six" ends in one, too
  if (plain == "half a dozen") plain = "6";
  if (plain == "a dozen" || plain == "dozen") plain = "1 dozen";
  const bool dozens = takeOffWords(plain, {"dozens", "dozen", "doz.", "doz"});
  if (const auto word = numberWord(plain)) plain = std::to_string(*word);
  const auto digits = wholeNumber(plain, found.about);
  if (!digits) return std::nullopt;
  found.count = smallNumber(*digits) * (dozens ? 12 : 1);
  return found.count < 1'000'000 ? std::optional(found) : std::nullopt;
}

std::optional<double> amountFromText(std::string_view text) {
  std::string plain = lowerCase(trimmed(text));
  takeOffWords(plain, {"sheets", "sheet", "strips", "strip", "minutes", "minute", "mins", "min.", "min",
                       "petals", "layers", "each", "~", "about"});
  const auto number = lengthFromText(plain, Units::millimetre);
  const bool bare = !unitsNamed(plain) && !plain.starts_with('-');
  return number && bare ? std::optional(number->value) : std::nullopt;
}

std::optional<bool> yesOrNo(std::string_view text) {
  const std::string word = lowerCase(trimmed(text));
  for (const std::string_view yes :
       {"yes", "y", "true", "1", "x", "\u2713", "\u2714", "filler", "fill", "ok"})
    if (word == yes) return true;
  for (const std::string_view no : {"", "no", "n", "false", "0", "-", "\u2013", "\u2014", "none", "n/a"})
    if (word == no) return false;
  return std::nullopt;
}

bool meansAsAbove(std::string_view text) {
  const std::string word = lowerCase(trimmed(text));
  for (const std::string_view same :
       {"\"", "''", "\u201d", "\u3003", "ditto", "do.", "same", "as above", "-\"-"})
    if (word == same) return true;
  return false;
}

}  // namespace petalproof::tables
