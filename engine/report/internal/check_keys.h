#pragma once
#include "engine/advice/advice.h"
#include "engine/check/check.h"

#include <string>

namespace petalproof::report {

// What stands between the outer braces of a check's JSON, without the last newline (in check_json.cc).
std::string checkKeys(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                      const advice::Advice* advice = nullptr);

}  // namespace petalproof::report
