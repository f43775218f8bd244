#include "engine/base/nearest_name.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <vector>

namespace petalproof {
namespace {

// Longer names than people type get no suggestion: the comparison takes time with the product of lengths.
constexpr std::size_t longest_name = 80;

bool continuesCharacter(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

// Splits UTF-8 text into characters, with ASCII letters in lower case.
std::vector<std::string> characters(std::string_view text) {
  std::vector<std::string> letters;
  for (char c : text) {
    if (continuesCharacter(c) && !letters.empty()) {
      letters.back() += c;
      continue;
    }
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    letters.emplace_back(1, c);
  }
  return letters;
}

// Edits between two names: the optimal string alignment distance (insert, delete, exchange, swap of
// neighbours, no place edited twice), row by row.
std::size_t editsBetween(const std::vector<std::string>& a, const std::vector<std::string>& b) {
  std::vector<std::size_t> before_last(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    before_last.swap(last);
    last.swap(row);
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t exchange = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, exchange});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
    }
  }
  return row[b.size()];
}

std::size_t allowedEdits(std::size_t length_a, std::size_t length_b) {
  return std::max<std::size_t>(1, std::max(length_a, length_b) / 3);
}

}  // namespace

std::optional<std::string> nearestName(std::string_view name, std::span<const std::string> known) {
  if (name.empty() || name.size() > longest_name) return std::nullopt;
  const auto wanted = characters(name);
  const std::string* best = nullptr;
  std::size_t best_edits = longest_name;
  for (const std::string& known_name : known) {
    if (known_name.empty() || known_name.size() > longest_name) continue;
    const auto candidate = characters(known_name);
    const std::size_t difference =
        std::max(wanted.size(), candidate.size()) - std::min(wanted.size(), candidate.size());
    const std::size_t allowed = allowedEdits(wanted.size(), candidate.size());
    if (difference > allowed || difference >= best_edits) continue;
    const std::size_t edits = editsBetween(wanted, candidate);
    if (edits > allowed || edits >= best_edits) continue;
    best = &known_name;
    best_edits = edits;
  }
  return best ? std::optional(*best) : std::nullopt;
}

std::string didYouMean(std::string_view name, std::span<const std::string> known) {
  const auto nearest = nearestName(name, known);
  return nearest ? fmt::format(", did you mean \"{}\"?", *nearest) : std::string();
}

}  // namespace petalproof
