#pragma once
#include "engine/filler/fill.h"
#include "engine/scene/scene.h"

#include <string>

namespace petalproof {

// The plan as given and as filled, with the scenes of both (of what FillResult::before and ::after checked).
struct FilledWall {
  const FillResult& result;
  const LoadedPlan& given;
  const Scene& before;
  const Scene& after;
};

// The check of the plan as given, then what fills it and the check of the filled plan (format in the README's
// chapter on the JSON). Begins as every check's JSON does.
std::string fillJson(const FilledWall& wall);

}  // namespace petalproof
