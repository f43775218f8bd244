#pragma once
#include "engine/advice/advice.h"
#include "engine/check/check.h"

#include <string>
#include <string_view>

namespace petalproof::report {

// The check as JSON (format in assets/manual/json.md): lengths in mm, fixed order of keys,
// numbers rounded to 1e-6. `advice`: where it was asked for.
std::string checkJson(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                      const advice::Advice* advice = nullptr);

// What every such text starts with, whatever the plan: tells a report of ours from somebody's file.
std::string_view checkJsonSignature();

}  // namespace petalproof::report
