#include "engine/tables/tables_text.h"

#include "engine/base/problem.h"
#include "engine/plan/findings.h"
#include "engine/plan/write_plan.h"

#include <fmt/format.h>

#include <map>
#include <string_view>
#include <tuple>

namespace petalproof::tables {
namespace {

constexpr std::string_view heading =
    "# A first plan, made from tables. A remark \"guessed\" says what the tables left open; change what\n"
    "# isn't so. Without a [[shot]] of its own it is checked with five usual ones.\n";

// Section, name of the bloom, key.
using Spot = std::tuple<std::string, std::string, std::string>;

std::map<Spot, std::string> remarksOf(const std::vector<Guess>& guesses) {
  std::map<Spot, std::string> remarks;
  for (const Guess& guess : guesses) {
    std::string& remark = remarks[{guess.section, guess.name, guess.key}];
    remark += remark.empty() ? guess.why : "; " + guess.why;
  }
  return remarks;
}

std::string_view nextLine(std::string_view& text) {
  const auto end = std::min(text.find('\n'), text.size());
  const std::string_view line = text.substr(0, end);
  text.remove_prefix(std::min(end + 1, text.size()));
  return line;
}

std::string_view keyOf(std::string_view line) {
  const auto equals = line.find(" = ");
  return equals == std::string_view::npos ? "" : line.substr(0, equals);
}

std::string onOneLine(std::string text) {
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = ' ';
  return text;
}

// A guess about the wall or the whole plan, in words.
std::string wallPhrase(const Guess& guess) {
  const std::string& value = guess.value;
  if (guess.key == "title") return "the title is " + plan::inQuotes(value);
  if (guess.key == "units") {
    const char* unit = value == "in" ? "inches" : value == "cm" ? "centimetres" : "millimetres";
    return std::string("lengths are in ") + unit;
  }
  if (guess.key == "panel") return "panels are " + value;
  if (guess.key == "grid") return "the cells have " + value;
  if (guess.key == "columns" || guess.key == "rows") {
    const std::string singular = guess.key.substr(0, guess.key.size() - 1);
    return "the wall has " + value + " " + (value == "1" ? singular : guess.key);
  }
  return guess.key + " " + value;
}

std::string phrase(const Guess& guess) {
  if (guess.name.empty()) return fmt::format("{} ({})", wallPhrase(guess), guess.why);
  return fmt::format("{} {} ({})", guess.key, guess.value, guess.why);
}

}  // namespace

std::string planText(const plan::Plan& plan, const std::vector<Guess>& guesses) {
  const auto remarks = remarksOf(guesses);
  const std::string written = plan::writePlan(plan);
  std::string text(heading);
  std::string section;
  std::string name;
  std::size_t blooms = 0;
  for (std::string_view left = written; !left.empty();) {
    const std::string_view line = nextLine(left);
    if (line.starts_with('[')) {
      section = line == "[wall]" ? "wall" : line == "[[bloom]]" ? "bloom" : "other";
      name = section == "bloom" ? plan.blooms[blooms++].name : "";
    }
    text += line;
    const auto remark = remarks.find({section, name, std::string(keyOf(line))});
    if (remark != remarks.end()) text += "   # guessed: " + onOneLine(remark->second);
    text += '\n';
  }
  return text;
}

std::vector<std::string> guessLines(const std::vector<Guess>& guesses) {
  std::vector<std::string> lines;
  for (std::size_t k = 0; k < guesses.size(); ++k) {
    const Guess& guess = guesses[k];
    const bool same = k > 0 && !guess.name.empty() && guess.name == guesses[k - 1].name;
    if (same)
      lines.back() += ", " + phrase(guess);
    else
      lines.push_back(
          toString({guess.from, guess.name.empty()
                                    ? phrase(guess)
                                    : fmt::format("{}: {}", plan::inQuotes(guess.name), phrase(guess))}));
  }
  return lines;
}

}  // namespace petalproof::tables
