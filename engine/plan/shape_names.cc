#include "engine/plan/shape_names.h"

#include <algorithm>
#include <array>

namespace petalproof::plan {
namespace {

constexpr std::array<std::string_view, 12> names = {"dahlia", "cone dahlia", "petal bloom", "peony",
                                                    "rose",   "bud",         "rosette",     "daisy",
                                                    "pompom", "leaf",        "leaf spray",  "fern"};

}  // namespace

std::string_view nameOf(Shape shape) { return names.at(static_cast<std::size_t>(shape)); }

std::optional<Shape> shapeFromName(std::string_view name) {
  const auto found = std::find(names.begin(), names.end(), name);
  if (found == names.end()) return std::nullopt;
  return static_cast<Shape>(found - names.begin());
}

std::span<const std::string_view> shapeNames() { return names; }

}  // namespace petalproof::plan
