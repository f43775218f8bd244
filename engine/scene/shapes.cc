#include "engine/scene/shapes.h"

#include "engine/scene/internal/shapes_full.h"
#include "engine/scene/internal/shapes_green.h"
#include "engine/scene/internal/shapes_open.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace petalproof::scene {
namespace {

// Usual shares, petals and layers: common practice of the craft, no source.
constexpr std::array<ShapeFacts, 12> facts{{
    {plan::Shape::dahlia, "dahlia", 0.28, 1.0, false, 12, 1, 60, 5, 1, 8},
    {plan::Shape::coneDahlia, "cone dahlia", 0.23, 1.0, false, 15, 1, 60, 3, 1, 8},
    {plan::Shape::petalBloom, "petal bloom", 0.27, 1.0, false, 7, 1, 60, 3, 1, 8},
    {plan::Shape::peony, "peony", 0.42, 1.0, false, 6, 1, 60, 4, 1, 8},
    {plan::Shape::rose, "rose", 0.47, 1.0, false, 7, 1, 60, 4, 1, 8},
    {plan::Shape::bud, "bud", 0.52, 1.0, false, 0, 0, 0, 5, 1, 8},
    {plan::Shape::rosette, "rosette", 0.08, 1.0, false, 36, 1, 60, 1, 1, 8},
    {plan::Shape::daisy, "daisy", 0.14, 1.0, false, 12, 1, 60, 2, 1, 8},
    {plan::Shape::pompom, "pompom", 0.5, 1.0, false, 0, 0, 0, 5, 1, 8},
    {plan::Shape::leaf, "leaf", 0.12, 0.42, true, 0, 0, 0, 0, 0, 0},
    {plan::Shape::leafSpray, "leaf spray", 0.12, 0.4, true, 7, 1, 60, 0, 0, 0},
    {plan::Shape::fern, "fern", 0.08, 0.3, true, 13, 1, 60, 0, 0, 0},
}};

int countOf(int wanted, int usual, int least, int most) {
  return wanted == 0 ? usual : std::clamp(wanted, least, most);
}

ShapeCounts countsOf(const ShapeSpec& spec) {
  const ShapeFacts& known = factsOf(spec.shape);
  return {countOf(spec.petals, known.petals, known.min_petals, known.max_petals),
          countOf(spec.layers, known.layers, known.min_layers, known.max_layers)};
}

Sketch sketchOf(plan::Shape shape, const ShapeCounts& counts, const Hand& hand) {
  switch (shape) {
    case plan::Shape::dahlia: return sketchDahlia(counts, hand);
    case plan::Shape::coneDahlia: return sketchConeDahlia(counts, hand);
    case plan::Shape::petalBloom: return sketchPetalBloom(counts, hand);
    case plan::Shape::peony: return sketchPeony(counts, hand);
    case plan::Shape::rose: return sketchRose(counts, hand);
    case plan::Shape::bud: return sketchBud(counts, hand);
    case plan::Shape::rosette: return sketchRosette(counts, hand);
    case plan::Shape::daisy: return sketchDaisy(counts, hand);
    case plan::Shape::pompom: return sketchPompom(counts, hand);
    case plan::Shape::leaf: return sketchLeaf(counts, hand);
    case plan::Shape::leafSpray: return sketchLeafSpray(counts, hand);
    case plan::Shape::fern: return sketchFern(counts, hand);
  }
  return {};
}

// Raises points below the board to the board, then scales heights so that the lowest is 0, the highest the
// depth.
void fitHeights(std::vector<glm::dvec3>& points, double depth_mm) {
  for (glm::dvec3& p : points) p.z = std::max(p.z, 0.0);
  double low = points.front().z;
  double high = low;
  for (const glm::dvec3& p : points) {
    low = std::min(low, p.z);
    high = std::max(high, p.z);
  }
  for (glm::dvec3& p : points) p.z = (p.z - low) / (high - low) * depth_mm;
}

void fitRadius(std::vector<glm::dvec3>& points, double radius_mm) {
  double farthest = 0;
  for (const glm::dvec3& p : points) farthest = std::max(farthest, std::hypot(p.x, p.y));
  for (glm::dvec3& p : points) {
    p.x *= radius_mm / farthest;
    p.y *= radius_mm / farthest;
  }
}

// Scales both ends to ±length / 2 and each side of the stem to half the width, so that the stem stays on the
// axis.
void fitLengthAndWidth(std::vector<glm::dvec3>& points, double length_mm, double width_mm) {
  double bottom = 0;
  double top = 0;
  double left = 0;
  double right = 0;
  for (const glm::dvec3& p : points) {
    bottom = std::min(bottom, p.y);
    top = std::max(top, p.y);
    left = std::max(left, -p.x);
    right = std::max(right, p.x);
  }
  for (glm::dvec3& p : points) {
    p.y = ((p.y - bottom) / (top - bottom) - 0.5) * length_mm;
    p.x *= 0.5 * width_mm / (p.x < 0 ? left : right);
  }
}

Mesh meshOf(const Sketch& sketch) {
  Mesh mesh;
  mesh.triangles = sketch.triangles;
  mesh.tint = sketch.tint;
  mesh.vertices.reserve(sketch.points.size());
  for (const glm::dvec3& p : sketch.points) mesh.vertices.emplace_back(p);
  return mesh;
}

}  // namespace

std::span<const ShapeFacts> allShapes() { return facts; }

const ShapeFacts& factsOf(plan::Shape shape) {
  const auto& found = facts[static_cast<std::size_t>(shape)];
  assert(found.shape == shape);
  return found;
}

Mesh makeShape(const ShapeSpec& spec) {
  assert(spec.diameter_mm > 0 && spec.depth_mm > 0);
  const Hand hand{spec.copy_hash, spec.variation};
  Sketch sketch = sketchOf(spec.shape, countsOf(spec), hand);
  while (sketch.triangles.size() < least_triangles) splitTriangles(sketch);
  fitHeights(sketch.points, spec.depth_mm);
  if (factsOf(spec.shape).has_width)
    fitLengthAndWidth(sketch.points, spec.diameter_mm, spec.width_mm);
  else
    fitRadius(sketch.points, 0.5 * spec.diameter_mm);
  return meshOf(sketch);
}

}  // namespace petalproof::scene
