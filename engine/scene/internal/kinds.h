#pragma once
// Prepares the plan's kinds of bloom for the wall: sizes in mm, defaults filled in, OBJ files read.
// buildScene, SceneKeeper and FillerMaker call prepareKinds.

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
  std::optional<Mesh> own;     // mesh of an OBJ file, fitted; empty unless the kind hangs on the wall
  std::int64_t triangles = 0;  // of a copy
  std::int64_t copies = 0;     // on the wall
  bool from_file = false;
};

using KindIndex = std::unordered_map<std::string, int>;
KindIndex kindIndexOf(const plan::Plan& plan);

// The number of copies of each kind on the wall, fillers included, in the order of Plan::blooms.
std::vector<std::int64_t> copiesOnWall(const plan::Plan& plan, const KindIndex& kinds);

// Counts the wall's triangles before it makes anything large; fails and names the limit if they are too many.
Result<std::vector<Kind>> prepareKinds(const plan::LoadedPlan& loaded, const SceneLimits& limits);

}  // namespace petalproof::scene
