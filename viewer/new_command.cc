#include "viewer/new_command.h"

#include "viewer/complain.h"
#include "viewer/new_from_tables.h"
#include "viewer/new_plan.h"

#include "engine/plan/plan_defaults.h"
#include "engine/plan/read_plan.h"
#include "engine/plan/starter_plan.h"
#include "engine/tables/wall_size.h"

#include <fmt/format.h>
#include <CLI/App.hpp>

#include <algorithm>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>

namespace petalproof {
namespace fs = std::filesystem;
namespace {

constexpr double longest_panel_mm = 10'000;  // as plans allow

std::optional<plan::Size> panelFrom(const std::string& text, Units units) {
  const auto panel = tables::widthAndHeight(text, units);
  if (!panel) return std::nullopt;
  const double longest = toMillimetres(std::max(panel->width, panel->height), units);
  return longest < longest_panel_mm ? panel : std::nullopt;
}

// Sets columns and rows from the wall's size and prints the size that they make.
void fitToSize(plan::StarterOptions& options, plan::Size asked, const NewArguments& arguments) {
  const tables::PanelCount count = tables::panelsNearest(asked, options.panel);
  options.columns = arguments.columns.value_or(count.columns);
  options.rows = arguments.rows.value_or(count.rows);
  plan::Wall wall = plan::defaultWall(options.units);
  wall.columns = options.columns;
  wall.rows = options.rows;
  wall.panel = options.panel;
  say(tables::whatItComesTo(wall, asked, options.units) + "\n");
}

ExitStatus newStarter(const NewArguments& arguments) {
  const Units units = arguments.units.value_or(Units::inch);
  plan::StarterOptions options = plan::starterOptions(units);
  options.columns = arguments.columns.value_or(options.columns);
  options.rows = arguments.rows.value_or(options.rows);
  if (!arguments.title.empty()) options.title = arguments.title;
  if (!arguments.panel.empty()) {
    const auto panel = panelFrom(arguments.panel, units);
    if (!panel)
      return complainByName(
          "--panel takes a panel's width and height, each over 0 and under 10 m, such as 24x20",
          ExitStatus::input_wrong);
    options.panel = *panel;
  }
  if (!arguments.size.empty()) {
    const auto size = tables::widthAndHeight(arguments.size, units);
    if (!size)
      return complainByName("--size takes the wall's width and height, such as 96x96",
                            ExitStatus::input_wrong);
    fitToSize(options, *size, arguments);
  }
  const std::string text = plan::starterPlan(options);
  // A plan that can't be loaded, because its title is too long, say, must not be written.
  const auto loaded = plan::readPlan(text, arguments.file, fs::path(arguments.file).parent_path());
  print(loaded.problems);
  if (!loaded) return ExitStatus::input_wrong;
  if (const auto wrong = writeNewPlan(arguments, text)) return complain(*wrong, ExitStatus::failed);
  say(fmt::format("{0} is a plan to start from. Edit it, then:\n  petalproof check {0}\n", arguments.file));
  return ExitStatus::done;
}

ExitStatus runNewCommand(const NewArguments& arguments) {
  if (arguments.file.empty()) return complainByName("FILE needs a name", ExitStatus::input_wrong);
  if (const auto wrong = whyNotOutputs(outputsOf(arguments)))
    return complain(*wrong, ExitStatus::input_wrong);
  const bool tables = !arguments.grid.empty() || !arguments.blooms.empty() || !arguments.recipe.empty();
  return tables ? newFromTables(arguments) : newStarter(arguments);
}

}  // namespace

Action setUpNew(CLI::App& app) {
  const auto arguments = std::make_shared<NewArguments>();
  const std::map<std::string, Units> units{
      {"in", Units::inch}, {"cm", Units::centimetre}, {"mm", Units::millimetre}};
  app.add_option("FILE", arguments->file, "The plan to write; must not exist")->required();
  app.add_option("--grid", arguments->grid, "Table (CSV) of which layout hangs in which cell")
      ->type_name("CSV");
  app.add_option("--blooms", arguments->blooms, "Table (CSV) of the blooms: flower, size, number, colour")
      ->type_name("CSV");
  app.add_option("--recipe", arguments->recipe,
                 "Blooms on one panel, such as large=1,medium=3,small=8,spray=2");
  app.add_option("--size", arguments->size, "About how large the wall is, such as 96x96")->type_name("WxH");
  app.add_option("--columns", arguments->columns, "Panels across")->check(CLI::Range(1, 200));
  app.add_option("--rows", arguments->rows, "Panels down")->check(CLI::Range(1, 200));
  app.add_option("--panel", arguments->panel, "Width and height of a panel, such as 24x20")->type_name("WxH");
  app.add_option("--units", arguments->units, "in, cm or mm, for every length of the plan")
      ->transform(CLI::CheckedTransformer(units, CLI::ignore_case).description(""))
      ->type_name("UNITS");
  app.add_option("--title", arguments->title, "The wall's name");
  app.add_option("--seed", arguments->seed, "Another number: another arrangement of the same tables");
  return [arguments] { return runNewCommand(*arguments); };
}

}  // namespace petalproof
