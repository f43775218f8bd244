#include "viewer/new_from_tables.h"

#include "viewer/table_paths.h"

#include "engine/arrange/arrange.h"
#include "engine/base/file.h"
#include "engine/plan/read_plan.h"
#include "engine/tables/tables.h"
#include "engine/tables/tables_text.h"
#include "viewer/complain.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>
#include <vector>

namespace petalproof {
namespace fs = std::filesystem;
namespace {

constexpr std::size_t most_table_bytes = std::size_t{16} << 20;

// Reads the table that is named; adds to `problems` where it can't be read.
std::optional<tables::TableFile> readTable(const std::string& path, std::vector<Problem>& problems) {
  if (path.empty()) return std::nullopt;
  auto bytes = readFile(path, most_table_bytes, path);
  problems.insert(problems.end(), bytes.problems.begin(), bytes.problems.end());
  if (!bytes) return std::nullopt;
  return tables::TableFile{path, std::move(*bytes.value)};
}

Result<tables::TablesPlan> readTables(const NewArguments& arguments) {
  tables::TablesInput input;
  std::vector<Problem> problems;
  input.grid = readTable(arguments.grid, problems);
  input.blooms = readTable(arguments.blooms, problems);
  if (!problems.empty()) return Result<tables::TablesPlan>::failure(std::move(problems));
  input.recipe = arguments.recipe;
  input.units = arguments.units;
  input.panel = arguments.panel;
  input.size = arguments.size;
  input.columns = arguments.columns;
  input.rows = arguments.rows;
  input.title = arguments.title;
  input.seed = arguments.seed;
  return tables::planFromTables(input);
}

std::size_t panelsOf(const plan::Wall& wall) {
  const auto& cells = wall.grid.cells();
  return static_cast<std::size_t>(
      std::count_if(cells.begin(), cells.end(), [](const plan::Cell& cell) { return cell.hasPanel(); }));
}

// Says how full the wall is, and how many blooms it lacks.
void tellBareBoard(const arrange::Arrangement& arrangement) {
  constexpr double negligible = 0.02;  // 2 % of the blooms: less than guessing their sizes is off by
  const double per_cent = std::round(100 * arrangement.bare_share);
  const double lacking = arrange::bloomsLacking(arrangement);
  if (lacking <= negligible) {
    say(fmt::format("About {} % of the board shows between the blooms, seen head-on.\n", per_cent));
    return;
  }
  if (arrangement.left_out > 0) {
    say(fmt::format(
        "note: about {} % of the board shows between the blooms, seen head-on; a full wall shows {} % at "
        "most. "
        "Their base plates leave no room for more: fewer and larger blooms cover it better, or smaller "
        "plates\n",
        per_cent, 100 * arrange::usual_bare_share));
    return;
  }
  say(fmt::format(
      "note: about {} % of the board shows between the blooms, seen head-on; a full wall shows {} % at most. "
      "The blooms are too few or too small for these panels: with about {} % more of each it would be full\n",
      per_cent, 100 * arrange::usual_bare_share, std::ceil(100 * lacking)));
}

void tell(const NewArguments& arguments, const Result<tables::TablesPlan>& tables,
          const arrange::Arrangement& arrangement) {
  for (const Problem& remark : tables.warnings) say(fmt::format("note: {}\n", toString(remark)));
  for (const std::string& line : tables::guessLines(tables.value->guesses))
    say(fmt::format("guessed: {}\n", line));
  for (const std::string& line : arrangement.dealt) say(fmt::format("dealt: {}\n", line));
  say(fmt::format("{}\n", tables.value->comes_to));
  tellBareBoard(arrangement);
  const std::size_t panels = panelsOf(tables.value->request.wall);
  say(fmt::format("{} has {} panel{}, arranged from the tables. Look it over, then:\n  petalproof check {}\n",
                  arguments.file, panels, panels == 1 ? "" : "s", arguments.file));
}

}  // namespace

ExitStatus newFromTables(const NewArguments& arguments) {
  auto tables = readTables(arguments);
  print(tables.problems);
  if (!tables) {
    print(tables.warnings);
    return ExitStatus::input_wrong;
  }
  const fs::path folder = fs::path(arguments.file).parent_path();
  moveMeshPaths(tables.value->request.blooms, fs::path(arguments.blooms).parent_path(), folder);
  const arrange::Arrangement arrangement = arrange::arrange(tables.value->request);
  const std::string text = tables::planText(
      tables::planWith(*tables.value, arrangement.grid, arrangement.layouts), tables.value->guesses);
  // A plan that can't be loaded again, because of a limit of plan files, say, must not be written.
  const auto loaded = plan::readPlan(text, arguments.file, folder);
  print(loaded.problems);
  if (!loaded) return ExitStatus::input_wrong;
  if (const auto wrong = writeNewPlan(arguments, text)) return complain(*wrong, ExitStatus::failed);
  tell(arguments, tables, arrangement);
  return ExitStatus::done;
}

}  // namespace petalproof
