#pragma once
// The known name that a misspelt one was probably meant to be.

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace petalproof {

// The closest of `known` by edits (insert, delete, exchange, swap of neighbours; case ignored) that
// is within a third of the longer name's length, at least one edit; nothing if none is. Of equally
// close ones the first.
std::optional<std::string> nearestName(std::string_view name, std::span<const std::string> known);

// ", did you mean \"rose\"?" or "" : the tail of a message about an unknown name.
std::string didYouMean(std::string_view name, std::span<const std::string> known);

}  // namespace petalproof
