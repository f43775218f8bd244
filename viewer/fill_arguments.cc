#include "viewer/fill_arguments.h"

#include <CLI/CLI.hpp>

#include <charconv>
#include <map>
#include <string_view>

namespace petalproof {
namespace {

constexpr int most_per_cent = 1000;
constexpr int most_walls = 1000;

// Whole numbers parted by `separator`; nothing for any other text.
std::optional<std::vector<int>> wholeNumbers(std::string_view text, char separator) {
  std::vector<int> numbers;
  for (;;) {
    const std::size_t end = std::min(text.find(separator), text.size());
    int number = 0;
    const auto [rest, error] = std::from_chars(text.data(), text.data() + end, number);
    if (error != std::errc() || rest != text.data() + end || number < 0) return std::nullopt;
    numbers.push_back(number);
    if (end == text.size()) return numbers;
    text.remove_prefix(end + 1);
  }
}

struct Spares {
  double small = 0;
  double medium = 0;
  std::optional<int> least;
};

std::optional<Spares> sparesFrom(const std::string& text) {
  const auto numbers = wholeNumbers(text, ',');
  if (!numbers || numbers->size() < 2 || numbers->size() > 3) return std::nullopt;
  for (const int number : *numbers)
    if (number > most_per_cent) return std::nullopt;
  Spares spares{(*numbers)[0] / 100.0, (*numbers)[1] / 100.0, std::nullopt};
  if (numbers->size() == 3) spares.least = numbers->back();
  return spares;
}

// "0", or "19/20".
std::optional<fill::CleanWalls> wallsFrom(const std::string& text) {
  if (text == "0") return fill::CleanWalls{0, 1};
  const auto numbers = wholeNumbers(text, '/');
  if (!numbers || numbers->size() != 2) return std::nullopt;
  const fill::CleanWalls walls{(*numbers)[0], (*numbers)[1]};
  const bool makes_sense = walls.clean >= 1 && walls.clean < walls.of && walls.of <= most_walls;
  return makes_sense ? std::optional(walls) : std::nullopt;
}

}  // namespace

std::optional<std::string> whyNotOptions(const FillArguments& arguments) {
  if (!arguments.walls.empty() && !wallsFrom(arguments.walls))
    return "--walls takes how many walls of how many are to be clean, such as 19/20, or 0 for perfect hands";
  if (!arguments.spares.empty() && !sparesFrom(arguments.spares))
    return "--spares takes per cent of the small and of the medium fillers, such as 15,10, and if wanted the "
           "fewest of each small one, 15,10,3";
  return std::nullopt;
}

fill::FillOptions optionsFrom(const FillArguments& arguments) {
  fill::FillOptions options;
  options.hide = arguments.hide;
  options.start_over = arguments.start_over;
  options.shots = arguments.shots;
  if (!arguments.walls.empty()) options.walls = wallsFrom(arguments.walls);
  if (arguments.spares.empty()) return options;
  const auto spares = sparesFrom(arguments.spares);
  options.spare_small = spares->small;
  options.spare_medium = spares->medium;
  options.fewest_small_spares = spares->least.value_or(options.fewest_small_spares);
  return options;
}

void addFillOptions(CLI::App& app, FillArguments& arguments) {
  const std::map<std::string, fill::Hide> hides{
      {"shows", fill::Hide::shows}, {"faint", fill::Hide::faint}, {"all", fill::Hide::all}};
  app.add_option("PLAN", arguments.plan, "The plan file")->required();
  app.add_option("--out", arguments.out, "Write the plan with its fillers to this new file");
  app.add_option("--json", arguments.json, "Write fillers and findings as JSON to this file");
  app.add_option("--pictures", arguments.pictures,
                 "Write each shot before and after, gaps marked, and a map of the fillers, here")
      ->type_name("DIR");
  app.add_option("--hide", arguments.hide,
                 "What to hide: holes that show (shows, the default), faint ones too (faint), or all that is "
                 "seen bare (all)")
      ->transform(CLI::CheckedTransformer(hides, CLI::ignore_case).description(""))
      ->type_name("WHAT");
  app.add_option("--walls", arguments.walls,
                 "How many walls built by hands as [hands] says are to be clean in every shot (default 19/20 "
                 "where the plan has [hands]; 0: perfect hands)")
      ->type_name("N/M");
  app.add_option("--spares", arguments.spares,
                 "Per cent of small and medium fillers to cut in addition, fewest of each small one "
                 "(default 15,10,3)")
      ->type_name("S,M,N");
  app.add_flag("--start-over", arguments.start_over,
               "Take the plan's fillers away first, but for fixed ones (default: they stay)");
  app.add_option("--shot", arguments.shots, "Fill for this shot only (repeatable)")->type_name("NAME");
  app.add_option("--threads", arguments.threads, "With this many threads (default: all cores)")
      ->check(CLI::Range(1, 256));
  app.add_flag("--quiet", arguments.quiet, "Print problems only");
}

}  // namespace petalproof
