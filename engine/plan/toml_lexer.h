#pragma once
// Tells quoted texts and comments of TOML apart from all else. What edits a plan's own text, the check for
// nesting and the saving of plans walk over TOML with it.

#include <cstddef>
#include <string_view>
#include <vector>

namespace petalproof::plan {

// The place behind the quoted text that begins at `at`. A text that isn't closed ends with its line, a long
// one
// ("""...""") with `toml`.
std::size_t endOfQuoted(std::string_view toml, std::size_t at);

// The comments, "# ..." up to the end of the line.
std::vector<std::string_view> commentsIn(std::string_view toml);

// The place of the first comma outside comments and quoted texts, or the end.
std::size_t firstComma(std::string_view toml);

}  // namespace petalproof::plan
