#pragma once
#include "engine/check/check.h"

#include <string>
#include <string_view>

namespace petalproof::report {

// The check as JSON (format in assets/manual/json.md): lengths in mm, fixed order of keys,
// numbers rounded to 1e-6. `plan_file` is the plan's file name without folders.
std::string checkJson(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene);

// What every such text starts with, whatever the plan: tells a report of ours from somebody's file.
std::string_view checkJsonSignature();

}  // namespace petalproof::report
