#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace petalproof::tables {
namespace {

bool isWordCharacter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || isDigit(c) ||
         (static_cast<unsigned char>(c) & 0x80U);
}

}  // namespace

std::string lowerCase(std::string_view text) {
  std::string lower(text);
  for (char& c : lower)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return lower;
}

std::vector<std::string> wordsOf(std::string_view text) {
  std::vector<std::string> words;
  bool inside = false;
  for (const char c : lowerCase(text)) {
    if (!isWordCharacter(c)) {
      inside = false;
      continue;
    }
    if (!inside) words.emplace_back();
    inside = true;
    words.back() += c;
  }
  return words;
}

std::string singular(std::string_view word) {
  if (word == "leaves") return "leaf";
  if (word.size() > 4 && word.ends_with("ies")) return fmt::format("{}y", word.substr(0, word.size() - 3));
  const bool hissing = word.ends_with("ches") || word.ends_with("shes") || word.ends_with("xes");
  if (hissing) return std::string(word.substr(0, word.size() - 2));
  const bool plural =
      word.size() > 3 && word.ends_with('s') && !word.ends_with("ss") && !word.ends_with("us");
  return std::string(plural ? word.substr(0, word.size() - 1) : word);
}

std::vector<std::string> singularWordsOf(std::string_view text) {
  std::vector<std::string> words = wordsOf(text);
  for (std::string& word : words) word = singular(word);
  return words;
}

bool hasPhrase(const std::vector<std::string>& words, std::string_view phrase) {
  return fmt::format(" {} ", joined(words)).find(fmt::format(" {} ", phrase)) != std::string::npos;
}

std::string joined(const std::vector<std::string>& words, std::string_view between) {
  std::string text;
  for (const std::string& word : words) {
    if (!text.empty()) text += between;
    text += word;
  }
  return text;
}

bool startsTotals(std::string_view text) {
  const auto words = wordsOf(text);
  if (words.empty()) return false;
  if (words.size() > 1 && words[0] == "sub" && words[1].starts_with("total")) return true;
  constexpr std::array<std::string_view, 7> first{"total",     "totals", "sum", "subtotal",
                                                  "subtotals", "grand",  "sums"};
  return std::find(first.begin(), first.end(), words.front()) != first.end() || joined(words) == "in all";
}

bool isNumber(std::string_view text) {
  return !text.empty() && std::any_of(text.begin(), text.end(), isDigit) &&
         std::all_of(text.begin(), text.end(), [](char c) { return isDigit(c) || c == '.' || c == ','; });
}

}  // namespace petalproof::tables
