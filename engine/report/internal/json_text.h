#pragma once
// Writes a JSON value as the text of a report. The reports build their values as nlohmann's ordered_json;
// layout and numbers are ours to decide.

#include <glm/vec2.hpp>
#include <nlohmann/json_fwd.hpp>

#include <optional>
#include <string>

namespace petalproof::json_text {

using Json = nlohmann::ordered_json;

// Rounded to 1e-6, written without exponent, trailing zeros or "-0"; "null" for nothing or a number
// that isn't finite.
std::string number(std::optional<double> value);

// A number or null.
Json valueOf(std::optional<double> value);

// [x, y].
Json pairOf(glm::dvec2 point);

// Appends the members of `from`.
void append(Json& object, Json from);

// Numbers as number() writes them, bytes that aren't UTF-8 as U+FFFD, a newline at the end. A list of objects
// has an item a line; an object that lists shots or gaps has a key a line; all else stays on one line.
std::string textOf(const Json& value);

}  // namespace petalproof::json_text
