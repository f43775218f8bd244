#pragma once
// Builds the scenes of a plan that changes step by step, for the viewer's live checks.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"

#include <memory>

namespace petalproof::scene {

// Makes the same scenes as buildScene, but keeps the meshes until a kind of bloom changes: a dragged bloom
// costs a small part of the first scene. An OBJ file that was written meanwhile is read again.
class SceneKeeper {
 public:
  SceneKeeper();
  ~SceneKeeper();

  // Problems as of buildScene; no warnings, because the search for hidden blooms takes most of buildScene's
  // time.
  Result<Scene> build(const plan::LoadedPlan& loaded, const SceneLimits& limits = {});

 private:
  struct Kept;
  std::unique_ptr<Kept> kept_;
};

}  // namespace petalproof::scene
