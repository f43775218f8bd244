#pragma once
// Finds the known name closest to a misspelt name, for "did you mean" in messages about plans and tables.

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace petalproof {

// The closest of `known` by edits (insert, delete, exchange, swap of neighbours; case ignored) that
// is within a third of the longer name's length, at least one edit; nothing if there is none. Of equally
// close names, the first.
std::optional<std::string> nearestName(std::string_view name, std::span<const std::string> known);

// ", did you mean \"rose\"?" or "" : the tail of a message about an unknown name.
std::string didYouMean(std::string_view name, std::span<const std::string> known);

}  // namespace petalproof
