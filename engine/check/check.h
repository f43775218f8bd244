#pragma once
// The main job: every shot of a plan, its gaps, and what is worth saying about its frame.

#include "engine/base/problem.h"
#include "engine/camera/camera.h"
#include "engine/camera/focus.h"
#include "engine/camera/framing.h"
#include "engine/gaps/bare_map.h"
#include "engine/gaps/gaps.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"
#include "engine/visibility/visibility_buffer.h"

#include <functional>
#include <string>
#include <vector>

namespace petalproof {

struct ShotCheck {
  Shot shot;  // as in the plan, or one of the default ones
  // What it was checked with: of a zoom, the end at which more bare wall is in gaps, the short one if both
  // are alike.
  FocalLength lens;
  Camera camera;
  FocusOfShot focus;
  PictureShares shares;
  OffWall off;
  FramingRemedy remedy;
  RoomForPeople room;
  GapsOfShot found;
  std::vector<std::string> warnings;
};

struct Check {
  std::vector<ShotCheck> shots;
  BareMap bare;
  std::vector<std::string> warnings;
};

struct CheckOptions {
  std::vector<std::string> shots;  // names; empty: all
  int threads = 0;                 // 0: as many as the machine has
  // Called between steps with the share done (0 to 1) and what is being done; may be empty.
  std::function<void(double, const std::string&)> progress;
  // Called with each shot's visibility once found; may be empty.
  std::function<void(const ShotCheck&, const VisibilityBuffer&)> on_shot;
};

// Problems: a shot name that the plan lacks (with the nearest one), a camera that can't be (at either
// end of a zoom).
Result<Check> runCheck(const LoadedPlan& loaded, const Scene& scene, const CheckOptions& options = {});

}  // namespace petalproof
