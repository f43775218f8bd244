#pragma once
#include "engine/base/frames.h"

#include <span>

namespace petalproof::report {

// The smallest rectangle around the points; at least one.
BoardRect boundsOf(std::span<const glm::dvec2> points);

// Distance between two rectangles; 0 where they meet.
double distanceBetween(const BoardRect& a, const BoardRect& b);

// Whether two closed outlines come nearer than `reach_mm` to each other, or one lies inside the other.
// Outlines of one or two points count as a point or a line.
bool nearerThan(double reach_mm, std::span<const glm::dvec2> a, std::span<const glm::dvec2> b);

}  // namespace petalproof::report
