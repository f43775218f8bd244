// petalproof new FILE: a commented plan to start from.

#include "viewer/command.h"

#include "engine/base/file.h"
#include "engine/base/length_text.h"
#include "engine/plan/starter_plan.h"

#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace petalproof {
namespace {

struct NewArguments {
  std::string file;
  std::string title;
  Units units = Units::inch;
  std::vector<std::string> panel;
  std::optional<int> columns;
  std::optional<int> rows;
};

ExitStatus complain(const std::string& message, ExitStatus status) {
  fmt::print(stderr, "petalproof: {}\n", message);
  return status;
}

// A side of a panel: positive and under 10 m.
std::optional<Length> panelSide(const std::string& text, Units units) {
  const auto length = lengthFromText(text, units);
  if (!length || !(length->value > 0) || toMillimetres(*length, units) > 10'000) return std::nullopt;
  return length;
}

std::optional<StarterOptions> starterFrom(const NewArguments& arguments) {
  StarterOptions options = starterOptions(arguments.units);
  options.columns = arguments.columns.value_or(options.columns);
  options.rows = arguments.rows.value_or(options.rows);
  if (!arguments.title.empty()) options.title = arguments.title;
  if (arguments.panel.empty()) return options;
  const auto width = panelSide(arguments.panel[0], arguments.units);
  const auto height = panelSide(arguments.panel[1], arguments.units);
  if (!width || !height) return std::nullopt;
  options.panel = {*width, *height};
  return options;
}

ExitStatus runNewCommand(const NewArguments& arguments) {
  if (std::filesystem::exists(arguments.file)) {
    return complain(fmt::format("{} exists already; name a new file", arguments.file),
                    ExitStatus::input_wrong);
  }
  const auto options = starterFrom(arguments);
  if (!options) {
    return complain("--panel takes a panel's width and height, each over 0 and under 10 m, such as 24,20",
                    ExitStatus::input_wrong);
  }
  if (const auto wrong = writeFile(arguments.file, starterPlan(*options), Existing::refuse)) {
    return complain(*wrong, ExitStatus::failed);
  }
  fmt::print("{0} is a plan to start from. Edit it, then:\n  petalproof check {0}\n", arguments.file);
  return ExitStatus::done;
}

}  // namespace

Action setUpNew(CLI::App& app) {
  const auto arguments = std::make_shared<NewArguments>();
  const std::map<std::string, Units> units{
      {"in", Units::inch}, {"cm", Units::centimetre}, {"mm", Units::millimetre}};
  app.add_option("FILE", arguments->file, "The plan to write; must not exist")->required();
  app.add_option("--columns", arguments->columns, "Panels across")->check(CLI::Range(1, 200));
  app.add_option("--rows", arguments->rows, "Panels down")->check(CLI::Range(1, 200));
  app.add_option("--panel", arguments->panel, "Width and height of a panel, such as 24,20")
      ->delimiter(',')
      ->expected(2)
      ->type_name("W,H");
  app.add_option("--units", arguments->units, "in, cm or mm, for every length of the plan")
      ->transform(CLI::CheckedTransformer(units, CLI::ignore_case).description(""))
      ->type_name("UNITS");
  app.add_option("--title", arguments->title, "The wall's name");
  return [arguments] { return runNewCommand(*arguments); };
}

}  // namespace petalproof
