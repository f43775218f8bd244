#pragma once
// Guesses a bloom's shape, depth and petals from its name and size. The readers of tables and recipes call
// this.

#include "engine/base/units.h"
#include "engine/plan/plan.h"

#include <optional>
#include <string>
#include <string_view>

namespace petalproof::tables {

struct ShapeGuess {
  plan::Shape shape = plan::Shape::petalBloom;
  std::string why;  // "by its name", "by its size"; empty: the text is the shape's own name
};

// The shape that the words of a cell name or suggest; nothing if no word tells about a shape.
std::optional<ShapeGuess> shapeFromWords(std::string_view text);

// The shape of a misspelt word.
std::optional<plan::Shape> shapeNearTo(std::string_view text);

// The usual shape of blooms of this size.
plan::Shape shapeFromSize(double diameter_mm);

// The usual depth of a bloom of this shape and size, to a mark on the tape. Small blooms are deeper for their
// size than large blooms, whose card sinks. The ranges are common practice, no source.
Length guessedDepth(plan::Shape shape, Length diameter, Units units);

// The usual petals of a ring (leaves of a spray, pairs of leaflets of a fern): large blooms have more.
// Nothing for shapes without petals to count.
std::optional<int> guessedPetals(plan::Shape shape, double diameter_mm);

// The diameter as a share of the panel's shorter side that "large", "medium", "small", ... mean; nothing for
// other words.
std::optional<double> shareFromSizeWord(std::string_view text);

}  // namespace petalproof::tables
