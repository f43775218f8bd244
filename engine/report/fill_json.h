#pragma once
// Writes a filling as JSON for other programs; `fill --json` calls it.

#include "engine/fill/fill.h"
#include "engine/scene/scene.h"

#include <string>

namespace petalproof::report {

// A filling with the plan as given and the scenes that FillResult::before and ::after checked.
struct FilledWall {
  const fill::FillResult& result;
  const plan::LoadedPlan& given;
  const scene::Scene& before;
  const scene::Scene& after;
};

// The check of the plan as given, then what fills it and the check of the filled plan (format in
// assets/manual/json.md). Begins as every check's JSON does.
std::string fillJson(const FilledWall& wall);

}  // namespace petalproof::report
