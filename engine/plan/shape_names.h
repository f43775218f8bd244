#pragma once
// The names of the shapes in plan files, tables and lists.

#include "engine/plan/plan.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace petalproof::plan {

// "dahlia", "cone dahlia", ...
std::string_view nameOf(Shape shape);
// The shape of that name; nothing for an unknown name.
std::optional<Shape> shapeFromName(std::string_view name);
// All names, in the order of Shape.
std::span<const std::string_view> shapeNames();

// Leaf, leaf spray and fern are long: their diameter is a length, and they take a width.
constexpr bool takesWidth(Shape shape) {
  return shape == Shape::leaf || shape == Shape::leafSpray || shape == Shape::fern;
}

}  // namespace petalproof::plan
