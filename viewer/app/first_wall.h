#pragma once
// Makes a first wall for a person without a plan: from a maker's tables, or from the answers to the start
// page's questions. The start page calls it through FirstWallMaker (first_wall_maker.h), in another thread.

#include "engine/arrange/arrange.h"
#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"
#include "engine/tables/tables.h"

#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace petalproof::app {

struct FirstWall {
  std::shared_ptr<const plan::LoadedPlan> plan;
  std::shared_ptr<const scene::Scene> scene;  // of the plan, for the start page's picture
  std::vector<std::string> guesses;           // a sentence for each: the guessed value and the reason
  std::vector<std::string> remarks;           // table rows left out, blooms not dealt equally
  std::string comes_to;                       // "5 × 6 panels of 20 × 16 in: 100 × 96 in"
  std::string hangs;             // how high a low wall hangs, and why; empty: it stands on the floor
  double bare_share = 0;         // of the board, seen head-on; an estimate
  double lacking = 0;            // blooms missing from a full wall, as a share of those on it
  tables::ArrangeRequest asked;  // the request that `arrangement` answers
  arrange::Arrangement arrangement;
};

// How carefully a first wall is laid out: in a moment, for a first look, or as it is to be made.
enum class Pace { hasty, careful };

// `directory`: mesh files named in the tables are relative to it. `before`: a wall made before; where it
// answers the same request at least as carefully, its arrangement is taken over. Problems: those of
// planFromTables().
Result<FirstWall> firstWall(const tables::TablesInput& input, const std::filesystem::path& directory = {},
                            Pace pace = Pace::careful, const FirstWall* before = nullptr);

// The problem with its place in the tables: "the list of blooms, row 3: ...", "the cells, cell B4: ...".
std::string inWords(const Problem& problem);

struct Palette {
  std::string name;
  std::vector<Colour> blooms;
  Colour green;
};
std::span<const Palette> palettes();

struct Answers {
  Units units = Units::inch;
  plan::Size panel{{24}, {20}};
  bool frame = true;  // false: a solid wall
  plan::Size wall{{96}, {96}};
  Length free_floor{144};
  int palette = 0;
  int large = 1;  // blooms of each size on a panel; these defaults fill a panel of the default size
  int medium = 4;
  int small = 12;
  int green = 4;
};

// The answers as input of planFromTables(): sizes and a recipe.
tables::TablesInput tablesFrom(const Answers& answers);
// The wall for the answers, in the palette's colours; `before` as above.
Result<FirstWall> firstWall(const Answers& answers, Pace pace = Pace::careful,
                            const FirstWall* before = nullptr);

}  // namespace petalproof::app
