#pragma once
// Characters of UTF-8 text (RFC 3629): checks them, counts them for columns in problems.

#include <cstddef>
#include <optional>
#include <string_view>

namespace petalproof::plan {

inline bool startsCharacter(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

// The place of the first byte that isn't part of well-formed UTF-8; nothing if all bytes are.
std::optional<std::size_t> firstBadByte(std::string_view text);

// Code points that start within the text.
std::size_t characterCount(std::string_view text);

}  // namespace petalproof::plan
