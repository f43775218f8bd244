#include "viewer/app/shot_edits.h"

#include "engine/plan/default_shots.h"

namespace petalproof::app {

std::vector<plan::Shot> shotsOf(const plan::Plan& plan) {
  return plan.shots.empty() ? plan::defaultShots(plan) : plan.shots;
}

}  // namespace petalproof::app
