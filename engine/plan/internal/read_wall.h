#pragma once
// Reads the [wall] section of a plan file with its grid; readPlan calls this. The wall is complete only if
// the table's findings have no problem.

#include "engine/plan/findings.h"
#include "engine/plan/internal/table_reader.h"
#include "engine/plan/read_plan.h"

#include <filesystem>

namespace petalproof::plan {

// The layouts that the grid's cells may name, and the folder of its CSV file.
struct GridSource {
  const Names& layouts;
  std::filesystem::path directory;  // of a CSV grid
  PlanLimits limits;
};
Wall readWall(TableReader table, Units units, const GridSource& source, PlanPlaces& places);

}  // namespace petalproof::plan
