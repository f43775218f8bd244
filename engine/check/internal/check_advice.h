#pragma once
#include "engine/check/advice.h"
#include "engine/check/check.h"
#include "engine/check/shot_checker.h"

namespace petalproof {

// Advice on every shot of a check of this plan and scene, each shot read by the checker that read it.
Advice adviceOn(const Check& check, const LoadedPlan& loaded, const Scene& scene, ShotChecker& checker,
                const std::function<void(double, const std::string&)>& progress);

}  // namespace petalproof
