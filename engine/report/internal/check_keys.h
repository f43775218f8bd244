#pragma once
#include "engine/check/check.h"

#include <string>

namespace petalproof {

// What stands between the outer braces of a check's JSON, without the last newline (in check_json.cc).
std::string checkKeys(const Check& check, const LoadedPlan& loaded, const Scene& scene);

}  // namespace petalproof
