#pragma once
// Writes a check as JSON for other programs; `check --json` and the window's export call it.

#include "engine/advice/advice.h"
#include "engine/check/check.h"

#include <string>
#include <string_view>

namespace petalproof::report {

// The check as JSON (format in assets/manual/json.md): lengths in mm, fixed order of keys,
// numbers rounded to 1e-6. `advice`: null where it wasn't asked for.
std::string checkJson(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                      const advice::Advice* advice = nullptr);

// The text that every report starts with, whatever the plan: only a file that starts so may be replaced by a
// report.
std::string_view checkJsonSignature();

}  // namespace petalproof::report
