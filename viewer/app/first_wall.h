#pragma once
// A first wall: from a maker's tables, or from four answers, a palette and a recipe.

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
  std::shared_ptr<const scene::Scene> scene;  // of the plan, to be looked at
  std::vector<std::string> guesses;           // one a line: what was guessed, and why
  std::vector<std::string> remarks;  // what was left out of the tables, what couldn't be dealt equally
  std::string comes_to;              // "5 × 6 panels of 20 × 16 in: 100 × 96 in"
  std::string hangs;                 // how high a low one hangs, and why; empty: it stands on the floor
  double bare_share = 0;             // of the board, seen head-on; about
  double lacking = 0;                // how many more blooms a full wall takes, as a share of those there
  tables::ArrangeRequest asked;      // what was arranged, and how
  arrange::Arrangement arrangement;
};

// How a first wall is laid out: with an eye on the clock, to be looked at first, or as it is to be made.
enum class Pace { hasty, careful };

// `directory`: what mesh files named in the tables are relative to. `before`: a wall that was made; where the
// same blooms are to be arranged, its places are taken. Problems as of planFromTables.
Result<FirstWall> firstWall(const tables::TablesInput& input, const std::filesystem::path& directory = {},
                            Pace pace = Pace::careful, const FirstWall* before = nullptr);

// With its place as people read it: "the list of blooms, row 3: ...", column letters as in a spreadsheet.
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
  bool frame = true;  // else a solid wall
  plan::Size wall{{96}, {96}};
  Length free_floor{144};
  int palette = 0;
  int large = 1;  // blooms on one panel: of this size it is full with so many
  int medium = 4;
  int small = 12;
  int green = 4;
};

// What the answers ask for, for planFromTables(): sizes and a recipe.
tables::TablesInput tablesFrom(const Answers& answers);
// The wall they come to, in the palette's colours; `before` as above.
Result<FirstWall> firstWall(const Answers& answers, Pace pace = Pace::careful,
                            const FirstWall* before = nullptr);

}  // namespace petalproof::app
