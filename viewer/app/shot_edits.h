#pragma once
// Changes to shots and to the plan as a whole (plan_edit.h).

#include "engine/plan/read_plan.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

// Shots, as shotsOf() lists them: a plan without any takes over the ones made for it.
struct AddShot {
  plan::Shot shot;
};
struct CopyShot {
  int shot = 0;
};
struct DeleteShot {
  int shot = 0;
};
struct SetShot {
  int shot = 0;
  plan::Shot to;
  std::string what;  // for the name of the step: "lens"
};

// The rest of the plan.
struct SetTitle {
  std::string title;
};
// Every length in another unit, as long as it was to a ten-thousandth of that unit.
struct SetUnits {
  Units units = Units::inch;
};
struct SetReading {
  plan::ReadingThresholds thresholds;
};
struct SetCopies {  // how copies of a bloom differ
  std::uint64_t seed = 1;
  double variation = 1;
};
struct SetHands {
  std::optional<plan::Hands> hands;
};
// A whole plan in one step: what a journal brought back, say.
struct ReplacePlan {
  std::shared_ptr<const plan::LoadedPlan> plan;
  std::string name;
};

// The plan's own shots, or those that it is checked with where it has none.
std::vector<plan::Shot> shotsOf(const plan::Plan& plan);

}  // namespace petalproof::app
