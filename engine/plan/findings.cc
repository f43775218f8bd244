#include "engine/plan/findings.h"

#include "engine/base/nearest_name.h"
#include "engine/plan/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <tuple>
#include <utility>

namespace petalproof::plan {
namespace {

constexpr std::size_t most_comparisons = 2'000'000;  // of names: a second or two
constexpr std::size_t longest_quote = 60;            // bytes; a message stays on a line or two
constexpr std::size_t most_listed = 12;              // names in a message

void sortByPlace(std::vector<Problem>& problems, const std::string& file) {
  const auto key = [&](const Problem& p) {
    return std::make_tuple(p.place.file != file, std::cref(p.place.file), p.place.line, p.place.column);
  };
  std::stable_sort(problems.begin(), problems.end(),
                   [&](const Problem& a, const Problem& b) { return key(a) < key(b); });
}

std::string_view firstBytes(std::string_view text, std::size_t count) {
  while (count > 0 && !startsCharacter(text[count])) --count;
  return text.substr(0, count);
}

}  // namespace

Place Findings::at(const toml::source_position& position) const {
  return {file_, static_cast<int>(position.line), static_cast<int>(position.column)};
}

std::vector<Problem> Findings::takeProblems() {
  sortByPlace(problems_, file_);
  return std::exchange(problems_, {});
}

std::vector<Problem> Findings::takeWarnings() {
  sortByPlace(warnings_, file_);
  return std::exchange(warnings_, {});
}

std::string Findings::suggestion(const std::string& name, const std::vector<std::string>& known) {
  compared_ += known.size();
  return compared_ > most_comparisons ? "" : didYouMean(name, known);
}

std::string Findings::unknownTail(const std::string& name, const std::vector<std::string>& known) {
  const std::string near = suggestion(name, known);
  if (!near.empty() || known.empty()) return near;
  if (known.size() == 1) return fmt::format("; there is only \"{}\"", known.front());
  const auto shown = std::min(known.size(), most_listed);
  return fmt::format("; it is one of \"{}\"{}",
                     fmt::join(known.begin(), known.begin() + static_cast<std::ptrdiff_t>(shown), "\", \""),
                     shown < known.size() ? ", ..." : "");
}

std::string inQuotes(std::string_view text) {
  std::string shown = "\"";
  const bool cut = text.size() > longest_quote;
  for (const char c : cut ? firstBytes(text, longest_quote) : text)
    shown += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? ' ' : c;
  return shown + (cut ? "...\"" : "\"");
}

std::string numberText(double value) {
  char buffer[32];
  const auto end = std::to_chars(buffer, buffer + sizeof buffer, value).ptr;
  return {buffer, end};
}

bool Names::add(const std::string& name, const Place& place) {
  if (!place_of_.emplace(name, place).second) return false;
  in_order_.push_back(name);
  return true;
}

}  // namespace petalproof::plan
