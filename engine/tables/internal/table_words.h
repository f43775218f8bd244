#pragma once
// Splits and normalises the words of a cell, so that readers can compare them with the words people usually
// write.

#include <string>
#include <string_view>
#include <vector>

namespace petalproof::tables {

constexpr bool isDigit(char c) { return c >= '0' && c <= '9'; }

std::string lowerCase(std::string_view text);  // ASCII letters only

// The words in lower case. Letters, digits and bytes beyond ASCII make words, all other characters separate
// them.
std::vector<std::string> wordsOf(std::string_view text);

// "leaf" of "leaves", "peony" of "peonies", "rose" of "roses".
std::string singular(std::string_view word);
std::vector<std::string> singularWordsOf(std::string_view text);

// Whether the words of `phrase` (in singular, with single spaces) follow each other in `words`.
bool hasPhrase(const std::vector<std::string>& words, std::string_view phrase);

std::string joined(const std::vector<std::string>& words, std::string_view between = " ");

// Whether the text begins like a line of totals: "Total", "Sum of all", "In all".
bool startsTotals(std::string_view text);

bool isNumber(std::string_view text);  // digits, with a point or a comma among them

}  // namespace petalproof::tables
