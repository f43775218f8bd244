// petalproof tables PLAN: the two tables back, for a spreadsheet.

#include "viewer/command.h"
#include "viewer/complain.h"
#include "viewer/output.h"
#include "viewer/table_paths.h"

#include "engine/plan/read_plan.h"
#include "engine/tables/write_tables.h"

#include <fmt/format.h>

#include <cstdio>
#include <memory>
#include <string>

namespace petalproof {
namespace {

struct TablesArguments {
  std::string plan;
  std::string out;
};

ExitStatus runTablesCommand(const TablesArguments& arguments) {
  if (const auto wrong = whyNotFolder(arguments.out)) return complainByName(*wrong, ExitStatus::input_wrong);
  auto loaded = plan::loadPlan(arguments.plan);
  print(loaded.problems);
  if (!loaded) return ExitStatus::input_wrong;
  plan::Plan& plan = loaded.value->plan;
  moveMeshPaths(plan.blooms, loaded.value->directory, arguments.out);
  const std::vector<NamedFile> files{{"grid.csv", tables::gridTable(plan)},
                                     {"blooms.csv", tables::bloomTable(plan)}};
  if (const auto wrong = writeFolder(arguments.out, files)) return complainByName(*wrong, ExitStatus::failed);
  fmt::print("{0}/grid.csv says what hangs where, {0}/blooms.csv what that takes.\n", arguments.out);
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
