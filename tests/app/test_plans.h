#pragma once
// Plans that the tests of the application start from.

#include "engine/plan/read_plan.h"

#include <memory>

namespace petalproof::app {

std::shared_ptr<const plan::LoadedPlan> demoPlan();
// Two by two panels with the layouts "sun" (A1, and upside down B2) and "moon" (B1; A2 is empty), three
// kinds, one shot; in inches.
std::shared_ptr<const plan::LoadedPlan> smallPlan();
std::shared_ptr<const plan::LoadedPlan> planFrom(const std::string& text);

}  // namespace petalproof::app
