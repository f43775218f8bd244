#pragma once
// One reader a section of the plan file. What is wrong is in the findings; what is returned is only
// whole where there is no problem.

#include "engine/plan/internal/table_reader.h"
#include "engine/plan/plan.h"
#include "engine/plan/read_plan.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::plan {

// Behind a layout's name in a grid: that cell's panel hangs turned by half a turn.
constexpr std::string_view upside_down_suffix = " upside down";

// The tables of [[key]]; `owner` names one of them in messages ("the bloom").
std::vector<TableReader> tablesOf(const Field& field, const std::string& owner);
// Reads the table's name, tells the reader of it and takes it into `names`.
std::string readName(TableReader& table, const std::string& kind, Names& names);

std::vector<Bloom> readBlooms(const Field& field, Names& names, std::vector<Place>& places);
std::vector<Layout> readLayouts(const Field& field, const Names& blooms, Names& names,
                                std::vector<std::vector<Place>>& places);
std::vector<Filler> readFillers(const Field& field, const Names& blooms, std::vector<Place>& places);
std::vector<Shot> readShots(const Field& field, Units units, const PlanLimits& limits, PlanPlaces& places);
Hands readHands(TableReader table, Units units);
ReadingThresholds readThresholds(TableReader table);

// What the wall's grid may refer to.
struct GridSource {
  const Names& layouts;
  std::filesystem::path directory;  // of a CSV grid
  PlanLimits limits;
};
Wall readWall(TableReader table, Units units, const GridSource& source, PlanPlaces& places);

}  // namespace petalproof::plan
