#include "engine/candidates/fitting.h"

#include "engine/base/convex_hull.h"
#include "engine/base/units.h"
#include "engine/candidates/silhouette.h"

#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace petalproof::candidates {
namespace {

constexpr double about = 1.03;  // places a little outside may fit: a mesh isn't a circle
constexpr int turns = 18;       // of a leaf, over half a turn
constexpr int cuts = 4;         // directions, each from both sides

bool holds(const EnclosingCircle& circle, glm::dvec2 p) {
  return glm::distance(circle.centre, p) <= circle.radius * (1 + 1e-9) + 1e-9;
}

EnclosingCircle about2(glm::dvec2 a, glm::dvec2 b) { return {(a + b) / 2.0, glm::distance(a, b) / 2}; }

// The circle through three points; if they lie on a line, about the two farthest apart.
EnclosingCircle about3(glm::dvec2 a, glm::dvec2 b, glm::dvec2 c) {
  const glm::dvec2 u = b - a;
  const glm::dvec2 v = c - a;
  const double area = 2 * (u.x * v.y - u.y * v.x);
  if (std::abs(area) < 1e-12) {
    EnclosingCircle largest = about2(a, b);
    for (const EnclosingCircle& other : {about2(a, c), about2(b, c)})
      if (other.radius > largest.radius) largest = other;
    return largest;
  }
  const double uu = glm::dot(u, u);
  const double vv = glm::dot(v, v);
  const glm::dvec2 to_centre((v.y * uu - u.y * vv) / area, (u.x * vv - v.x * uu) / area);
  return {a + to_centre, glm::length(to_centre)};
}

// Places in a leaf's own frame: x across, y along, about the middle of their bounds.
struct InLeaf {
  glm::dvec2 middle{0};
  double most = 0;  // above 1: outside of the outline, a parabola to both sides
};

InLeaf inLeaf(const scene::FillerKind& kind, double turn, std::span<const glm::dvec2> places) {
  const glm::dvec2 along(std::sin(turn), std::cos(turn));
  const glm::dvec2 across(along.y, -along.x);
  glm::dvec2 low(1e300);
  glm::dvec2 high(-1e300);
  for (const glm::dvec2& p : places) {
    const glm::dvec2 own(glm::dot(p, across), glm::dot(p, along));
    low = glm::min(low, own);
    high = glm::max(high, own);
  }
  const glm::dvec2 middle = (low + high) / 2.0;
  InLeaf leaf{across * middle.x + along * middle.y, 0};
  for (const glm::dvec2& p : places) {
    const double u = 2 * std::abs(glm::dot(p, along) - middle.y) / kind.diameter_mm;
    const double v = 2 * std::abs(glm::dot(p, across) - middle.x) / kind.width_mm;
    leaf.most = std::max(leaf.most, v + u * u);
  }
  return leaf;
}

std::optional<Proposal> fittingLeaf(const scene::FillerKind& kind, std::size_t number,
                                    std::span<const glm::dvec2> places) {
  std::optional<Proposal> best;
  double least = about;
  for (int k = 0; k < turns; ++k) {
    const int turn_deg = 180 * k / turns;
    const InLeaf leaf = inLeaf(kind, radians(turn_deg), places);
    if (leaf.most > least) continue;
    least = leaf.most;
    best = Proposal{number, leaf.middle, turn_deg, 0};
  }
  return best;
}

// A quick test that rules most kinds out.
bool tooFarApart(const scene::FillerKind& kind, std::span<const glm::dvec2> places) {
  glm::dvec2 low = places.front();
  glm::dvec2 high = low;
  for (const glm::dvec2& p : places) {
    low = glm::min(low, p);
    high = glm::max(high, p);
  }
  return std::max(high.x - low.x, high.y - low.y) > about * kind.diameter_mm;
}

// The convex hull: a disc's and a leaf's outlines are convex, so an outline that holds the hull holds all
// places.
std::vector<glm::dvec2> hullOf(std::span<const glm::dvec2> places) {
  std::vector<glm::dvec2> sorted(places.begin(), places.end());
  std::sort(sorted.begin(), sorted.end(),
            [](glm::dvec2 a, glm::dvec2 b) { return std::pair(a.x, a.y) < std::pair(b.x, b.y); });
  std::vector<glm::dvec2> hull;
  convexHull(std::span<const glm::dvec2>(sorted), doubleArea, hull);
  return hull;
}

std::optional<Proposal> fittingHull(const scene::FillerMaker& maker, std::size_t number,
                                    std::span<const glm::dvec2> hull) {
  const scene::FillerKind& kind = maker.kinds()[number];
  if (hull.empty() || tooFarApart(kind, hull)) return std::nullopt;
  if (kind.greenery) return fittingLeaf(kind, number, hull);
  const EnclosingCircle circle = smallestCircle(hull);
  if (circle.radius > about * kind.diameter_mm / 2) return std::nullopt;
  return Proposal{number, circle.centre, 0, 0};
}

bool fitsAny(const scene::FillerMaker& maker, std::span<const glm::dvec2> places) {
  const std::vector<glm::dvec2> hull = hullOf(places);
  for (std::size_t kind = 0; kind < maker.kinds().size(); ++kind)
    if (fittingHull(maker, kind, hull)) return true;
  return false;
}

void append(std::vector<Proposal>& to, const std::vector<Proposal>& proposals) {
  to.insert(to.end(), proposals.begin(), proposals.end());
}

}  // namespace

EnclosingCircle smallestCircle(std::span<const glm::dvec2> points) {
  if (points.empty()) return {};
  EnclosingCircle circle{points[0], 0};
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (holds(circle, points[i])) continue;
    circle = {points[i], 0};
    for (std::size_t j = 0; j < i; ++j) {
      if (holds(circle, points[j])) continue;
      circle = about2(points[i], points[j]);
      for (std::size_t k = 0; k < j; ++k)
        if (!holds(circle, points[k])) circle = about3(points[i], points[j], points[k]);
    }
  }
  return circle;
}

std::optional<Proposal> fitting(const scene::FillerMaker& maker, std::size_t number,
                                std::span<const glm::dvec2> places) {
  return fittingHull(maker, number, hullOf(places));
}

std::vector<Proposal> fittings(const scene::FillerMaker& maker, std::span<const glm::dvec2> places) {
  const std::vector<glm::dvec2> hull = hullOf(places);
  std::vector<Proposal> found;
  for (std::size_t kind = 0; kind < maker.kinds().size(); ++kind)
    if (const auto proposal = fittingHull(maker, kind, hull)) found.push_back(*proposal);
  return found;
}

// For each direction the first filler takes as many places from one side as it can hide; the second must fit
// the remaining places.
std::vector<Proposal> fittingPairs(const scene::FillerMaker& maker, std::vector<glm::dvec2> places) {
  std::vector<Proposal> found;
  for (int cut = 0; cut < 2 * cuts; ++cut) {
    const double a = pi * cut / cuts;
    const glm::dvec2 way(std::cos(a), std::sin(a));
    std::sort(places.begin(), places.end(),
              [&](glm::dvec2 p, glm::dvec2 q) { return glm::dot(p, way) < glm::dot(q, way); });
    const std::span<const glm::dvec2> all(places);
    std::size_t fits = 0;
    std::size_t too_many = places.size() + 1;
    while (too_many - fits > 1) {
      const std::size_t middle = (fits + too_many) / 2;
      (fitsAny(maker, all.first(middle)) ? fits : too_many) = middle;
    }
    if (fits == 0 || !fitsAny(maker, all.subspan(fits))) continue;
    append(found, fittings(maker, all.first(fits)));
    append(found, fittings(maker, all.subspan(fits)));
  }
  return found;
}

}  // namespace petalproof::candidates
