#include "viewer/tables_command.h"

#include "viewer/complain.h"
#include "viewer/output.h"
#include "viewer/table_paths.h"
#include "viewer/write_uninterrupted.h"

#include "engine/plan/read_plan.h"
#include "engine/tables/write_tables.h"

#include <fmt/format.h>
#include <CLI/App.hpp>

#include <array>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace petalproof {
namespace {

struct TablesArguments {
  std::string plan;
  std::string out;
};

ExitStatus runTablesCommand(const TablesArguments& arguments) {
  std::vector<Output> outputs;
  addFolder(outputs, "--out", arguments.out, FolderHolds::tables);
  if (outputs.empty()) return complainByName("--out needs a folder", ExitStatus::input_wrong);
  if (const auto wrong = whyNotOutputs(outputs)) return complain(*wrong, ExitStatus::input_wrong);
  auto loaded = plan::loadPlan(arguments.plan);
  print(loaded.problems);
  if (!loaded) return ExitStatus::input_wrong;
  const std::array<std::string, 2> names{"grid.csv", "blooms.csv"};
  const std::array<std::filesystem::path, 2> inputs{arguments.plan, loaded.value->places.grid_file};
  if (const auto wrong = whyNotNames(outputs.front(), names, inputs))
    return complain(*wrong, ExitStatus::input_wrong);
  plan::Plan& plan = loaded.value->plan;
  moveMeshPaths(plan.blooms, loaded.value->directory, arguments.out);
  outputs.front().files = {{names[0], tables::gridTable(plan)}, {names[1], tables::bloomTable(plan)}};
  if (const auto wrong = writeUninterrupted(outputs)) return complain(*wrong, ExitStatus::failed);
  say(fmt::format("{0}/grid.csv says what hangs where, {0}/blooms.csv what that takes.\n", arguments.out));
  return ExitStatus::done;
}

}  // namespace

Action setUpTables(CLI::App& app) {
  const auto arguments = std::make_shared<TablesArguments>();
  app.add_option("PLAN", arguments->plan, "The plan file")->required();
  app.add_option("--out", arguments->out, "Write grid.csv and blooms.csv to this folder")
      ->type_name("DIR")
      ->required();
  return [arguments] { return runTablesCommand(*arguments); };
}

}  // namespace petalproof
