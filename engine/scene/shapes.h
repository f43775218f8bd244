#pragma once
// Makes the stand-ins for paper blooms, meshes of 100 to 600 triangles, and knows each shape's usual depth,
// width and petals. The scene, the arranger and the viewer call makeShape and factsOf.

#include "engine/plan/shape_names.h"
#include "engine/scene/mesh.h"

#include <cstdint>
#include <span>
#include <string_view>

namespace petalproof::scene {

// A shape's name in plan files, its usual depth and width, and its ranges of petals and layers.
struct ShapeFacts {
  plan::Shape shape;
  std::string_view name;
  double depth_share;  // of the diameter; of the length for leaf, leaf spray, fern
  double width_share;  // of the length, for leaf, leaf spray, fern; else 1
  bool has_width;      // takes `width` in a plan
  int petals;          // default; 0: the shape has no petals to count
  int min_petals;
  int max_petals;
  int layers;  // default; 0: no layers to count
  int min_layers;
  int max_layers;
};

std::span<const ShapeFacts> allShapes();
const ShapeFacts& factsOf(plan::Shape shape);

struct ShapeSpec {
  plan::Shape shape = plan::Shape::dahlia;
  double diameter_mm = 0;  // leaf, leaf spray, fern: length
  double width_mm = 0;     // leaf, leaf spray, fern
  double depth_mm = 0;
  int petals = 0;  // 0: the shape's default
  int layers = 0;
  std::uint64_t copy_hash = 0;  // determines the copy's small differences in petal tilt and spread
  double variation = 0;         // 0: the shape itself; 1: a handmade copy
};

// Farthest point from the axis = diameter / 2, highest point = depth, lowest = 0, each to 0.1 %.
// For leaf, leaf spray and fern the length (along y) = diameter, centred on the axis, and the
// width (along x) = width. Precondition: sizes finite and positive.
Mesh makeShape(const ShapeSpec& spec);

}  // namespace petalproof::scene
