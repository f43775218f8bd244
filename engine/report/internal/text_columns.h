#pragma once
// Wraps words into lines beside a label, for the tables and lists on a terminal.

#include <cstddef>
#include <string>
#include <string_view>

namespace petalproof::report {

constexpr std::size_t table_width = 100;

// Characters (code points) of a UTF-8 text.
std::size_t widthOf(std::string_view text);

// "  label      text ...": the text wrapped between words, its lines below each other.
std::string labelled(std::string_view label, std::string_view text);

// `head`, then the text wrapped between words, further lines two characters farther in than the text.
std::string hanging(std::string_view head, std::string_view text);

}  // namespace petalproof::report
