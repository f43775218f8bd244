#pragma once
// The pieces of a JSON text whose layout and numbers are ours to decide.

#include <glm/vec2.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::json_text {

// Rounded to 1e-6, written without exponent, trailing zeros or "-0"; "null" for nothing or a number
// that isn't finite.
std::string number(std::optional<double> value);

// Quoted and escaped; bytes that aren't UTF-8 become U+FFFD.
std::string textOf(std::string_view text);

// "[x, y]".
std::string pair(glm::dvec2 point);

// "[]", or one item a line; `indent` is that of the line on which the list begins.
std::string list(const std::vector<std::string>& items, std::string_view indent);

}  // namespace petalproof::json_text
