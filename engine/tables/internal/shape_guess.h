#pragma once
// What a bloom probably looks like, from what it is called and how large it is.

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

// Of the words of a cell; nothing where they say nothing about a shape.
std::optional<ShapeGuess> shapeFromWords(std::string_view text);

// Of a word with a slip of the pen.
std::optional<plan::Shape> shapeNearTo(std::string_view text);

// What is usual where only the size is known.
plan::Shape shapeFromSize(double diameter_mm);

// How far a bloom of this shape and size stands out: small ones more for their size than large ones,
// whose card sinks. To a mark on the tape. The ranges are common practice, no source.
Length guessedDepth(plan::Shape shape, Length diameter, Units units);

// In one ring (leaves of a spray, pairs of leaflets of a fern): large blooms have more. Nothing for shapes
// without petals to count.
std::optional<int> guessedPetals(plan::Shape shape, double diameter_mm);

// "large", "medium", "small", ...: a usual share of the panel's shorter side; nothing for other words.
std::optional<double> shareFromSizeWord(std::string_view text);

}  // namespace petalproof::tables
