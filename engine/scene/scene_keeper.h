#pragma once
// The scene of a plan that changes step by step.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"

#include <memory>

namespace petalproof::scene {

// Makes the same scenes as buildScene, each mesh once for as long as the kinds of bloom stay: a dragged bloom
// costs a small part of the first scene. An OBJ file that was written since is read again.
class SceneKeeper {
 public:
  SceneKeeper();
  ~SceneKeeper();

  // Problems as of buildScene; no warnings: to look for blooms hidden in others takes most of its time.
  Result<Scene> build(const plan::LoadedPlan& loaded, const SceneLimits& limits = {});

 private:
  struct Kept;
  std::unique_ptr<Kept> kept_;
};

}  // namespace petalproof::scene
