#pragma once
// The keys that the JSON of a check and of a filling have in common. Both reports start from them.

#include "engine/advice/advice.h"
#include "engine/check/check.h"
#include "engine/report/internal/json_text.h"

namespace petalproof::report {

// A check's JSON as an object.
json_text::Json checkKeys(const check::Check& check, const plan::LoadedPlan& loaded,
                          const scene::Scene& scene, const advice::Advice* advice = nullptr);

}  // namespace petalproof::report
