#pragma once
// The plan's kinds of bloom made ready for the wall: sizes in mm, defaults filled in, OBJ files read.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"
#include "engine/scene/shapes.h"

#include <cstdint>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

namespace petalproof::scene {

struct Kind {
  double diameter_mm = 0;
  double depth_mm = 0;
  double plate_mm = 0;
  ShapeSpec spec;              // of a shape
  std::optional<Mesh> own;     // of an OBJ file, fitted; empty unless it hangs on the wall
  std::int64_t triangles = 0;  // of one copy
  std::int64_t copies = 0;     // on the wall
  bool from_file = false;
};

using KindIndex = std::unordered_map<std::string, int>;
KindIndex kindIndexOf(const plan::Plan& plan);

// How many copies of each kind hang on the wall, fillers included; as Plan::blooms.
std::vector<std::int64_t> copiesOnWall(const plan::Plan& plan, const KindIndex& kinds);

// Counts the wall's triangles before it makes anything large; past the limit it fails and names it.
Result<std::vector<Kind>> prepareKinds(const plan::LoadedPlan& loaded, const SceneLimits& limits);

}  // namespace petalproof::scene
