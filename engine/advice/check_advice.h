#pragma once
#include "engine/advice/advice.h"
#include "engine/check/check.h"
#include "engine/check/shot_checker.h"

namespace petalproof::advice {

// Advice on every shot of a check of this plan and scene, each shot read by the checker that read it.
Advice adviceOn(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                check::ShotChecker& checker, const std::function<void(double, const std::string&)>& progress);

}  // namespace petalproof::advice
