#pragma once
// The main job: every shot of a plan, its gaps, and what is worth saying about its frame.

#include "engine/base/pool.h"
#include "engine/base/problem.h"
#include "engine/check/builds.h"
#include "engine/check/shot_checker.h"
#include "engine/gaps/bare_map.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"
#include "engine/visibility/visibility_buffer.h"

#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace petalproof::check {

struct Check {
  std::vector<ShotCheck> shots;
  std::optional<BuildsCheck> builds;  // where asked for: what hands make of it
  gaps::BareMap bare;
  std::vector<std::string> warnings;
};

struct CheckOptions {
  int builds = 0;                  // simulated builds by the plan's hands; needs readings
  std::vector<std::string> shots;  // names; empty: all
  bool readings = true;            // how each gap reads; without them only where and how large it is
  picture::Lighting lighting = picture::Lighting::full;  // rough: for looks in between, nearly as good
  // Called between steps with the share done (0 to 1) and what is being done; may be empty.
  std::function<void(double, const std::string&)> progress;
  std::stop_token stop;  // once it is asked for, the check ends by throwing Stopped (base/stopping.h)
  // Called with each shot's visibility once found; may be empty.
  std::function<void(const ShotCheck&, const visibility::VisibilityBuffer&)> on_shot;
  // Called with each shot's picture as it will be looked at; may be empty.
  std::function<void(const ShotCheck&, const Image&)> on_as_seen;
};

// Problems: builds asked for of a plan without [hands]; a shot name that the plan lacks (with the nearest
// one), a camera that can't be (at either end of a zoom).
Result<Check> runCheck(const plan::LoadedPlan& loaded, const scene::Scene& scene, const Pool& pool,
                       const CheckOptions& options = {});
// The same by a checker that has checked before, which goes on with this plan; `options.readings` as it
// was made with.
Result<Check> runCheck(const plan::LoadedPlan& loaded, const scene::Scene& scene, const CheckOptions& options,
                       ShotChecker& checker);

}  // namespace petalproof::check
