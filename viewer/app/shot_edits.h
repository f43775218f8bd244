#pragma once
// Edits of shots and of the plan as a whole: the values that panels hand to edited() (plan_edit.h).

#include "engine/plan/read_plan.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

// `shot` is an index into shotsOf(). A plan without shots of its own first takes over its default shots.
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
  std::string detail;  // for the name of the step: "lens"
};

// The plan as a whole.
struct SetTitle {
  std::string title;
};
// Converts every length to another unit, rounded to a ten-thousandth of it.
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
// Replaces the whole plan in a single step, such as by work found in a journal.
struct ReplacePlan {
  std::shared_ptr<const plan::LoadedPlan> plan;
  std::string name;
};

// The plan's own shots; where it has none, the default shots that it is checked with.
std::vector<plan::Shot> shotsOf(const plan::Plan& plan);

}  // namespace petalproof::app
