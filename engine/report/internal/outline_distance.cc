#include "engine/report/internal/outline_distance.h"

#include "engine/base/segment.h"

#include <glm/geometric.hpp>
#include <glm/vector_relational.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

namespace petalproof::report {
namespace {

using Points = std::span<const glm::dvec2>;

struct Segment {
  glm::dvec2 from;
  glm::dvec2 to;
};

BoardRect segmentBounds(const Segment& segment) {
  return {glm::min(segment.from, segment.to), glm::max(segment.from, segment.to)};
}

double crossOf(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

bool cross(const Segment& a, const Segment& b) {
  const auto side = [](const Segment& s, glm::dvec2 p) { return crossOf(s.to - s.from, p - s.from); };
  return side(a, b.from) * side(a, b.to) < 0 && side(b, a.from) * side(b, a.to) < 0;
}

double segmentDistance(const Segment& a, const Segment& b) {
  if (cross(a, b)) return 0;
  return std::min({distanceToSegment(a.from, b.from, b.to), distanceToSegment(a.to, b.from, b.to),
                   distanceToSegment(b.from, a.from, a.to), distanceToSegment(b.to, a.from, a.to)});
}

std::vector<Segment> segmentsNear(Points outline, const BoardRect& place, double reach_mm) {
  std::vector<Segment> near;
  for (std::size_t k = 0; k + 1 < std::max<std::size_t>(outline.size(), 2); ++k) {
    const Segment segment{outline[k], outline[std::min(k + 1, outline.size() - 1)]};
    if (distanceBetween(segmentBounds(segment), place) < reach_mm) near.push_back(segment);
  }
  return near;
}

// Counts the crossings of a ray to the right.
bool inside(glm::dvec2 p, Points outline) {
  bool in = false;
  for (std::size_t k = 0; k + 1 < outline.size(); ++k) {
    const glm::dvec2& a = outline[k];
    const glm::dvec2& b = outline[k + 1];
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) in = !in;
  }
  return in;
}

bool edgesNearerThan(double reach_mm, Points a, Points b) {
  const std::vector<Segment> of_a = segmentsNear(a, boundsOf(b), reach_mm);
  if (of_a.empty()) return false;
  const std::vector<Segment> of_b = segmentsNear(b, boundsOf(a), reach_mm);
  for (const Segment& s : of_a) {
    for (const Segment& t : of_b) {
      if (distanceBetween(segmentBounds(s), segmentBounds(t)) < reach_mm && segmentDistance(s, t) < reach_mm)
        return true;
    }
  }
  return false;
}

}  // namespace

BoardRect boundsOf(Points points) {
  BoardRect bounds{points.front(), points.front()};
  for (const glm::dvec2& p : points) {
    bounds.min_mm = glm::min(bounds.min_mm, p);
    bounds.max_mm = glm::max(bounds.max_mm, p);
  }
  return bounds;
}

double distanceBetween(const BoardRect& a, const BoardRect& b) {
  const glm::dvec2 apart = glm::max(glm::max(a.min_mm - b.max_mm, b.min_mm - a.max_mm), glm::dvec2(0, 0));
  return glm::length(apart);
}

bool nearerThan(double reach_mm, Points a, Points b) {
  if (a.empty() || b.empty()) return false;
  return edgesNearerThan(reach_mm, a, b) || inside(a.front(), b) || inside(b.front(), a);
}

}  // namespace petalproof::report
