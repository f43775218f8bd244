#pragma once
// Reads a plan file into a Plan and checks it. Every problem is listed, not only the first (a syntax error
// ends the list), in the order of the file, those of a CSV grid after it. Warnings: a bloom wholly off its
// panel, a filler wholly off the wall.

#include "engine/base/problem.h"
#include "engine/plan/plan.h"

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::plan {

// The places of a plan's parts in its file, so that later findings still point at the input.
struct PlanPlaces {
  Place wall;
  Place room_ceiling;
  Place room_depth;
  std::vector<Place> blooms;                   // as Plan::blooms; of the mesh's path if it has one
  std::vector<std::vector<Place>> placements;  // as Plan::layouts, then Layout::blooms
  std::vector<Place> fillers;
  std::vector<Place> shots;         // the table
  std::vector<Place> shot_cameras;  // the value of `camera`
  std::vector<Place> shot_aims;     // the value of `aim`
  std::vector<Place> shot_focuses;  // the value of `focus`; the table if there is none
  std::filesystem::path grid_file;  // the CSV file of the grid; empty where the plan itself has the rows
};

struct LoadedPlan {
  Plan plan;
  PlanPlaces places;
  std::string file;                 // as shown to people
  std::filesystem::path directory;  // what the plan's paths are relative to
};

// Larger plans are refused, so that time and memory stay bounded. All are far beyond real walls.
struct PlanLimits {
  std::size_t plan_bytes = std::size_t{16} << 20;
  int columns = 200;
  int rows = 200;
  int blooms_on_wall = 200'000;
  int shots = 100;
  double megapixels = 100;
};

// `path` may be absolute or relative to the working folder; problems name it as given.
Result<LoadedPlan> loadPlan(const std::filesystem::path& path, const PlanLimits& limits = {});

// `text` is TOML, `file` names it in problems; a CSV grid is read from `directory`.
Result<LoadedPlan> readPlan(std::string_view text, const std::string& file,
                            const std::filesystem::path& directory, const PlanLimits& limits = {});

}  // namespace petalproof::plan
