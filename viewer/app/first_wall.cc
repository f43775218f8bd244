#include "viewer/app/first_wall.h"

#include "engine/plan/shape_names.h"
#include "engine/scene/arrange.h"

#include <fmt/format.h>

#include <array>
#include <utility>

namespace petalproof::app {
namespace {

std::string sides(Size size) { return fmt::format("{}x{}", size.width.value, size.height.value); }

// What the fields of the window are called.
InputWords windowWords() {
  InputWords words;
  words.panel = "the panel's size";
  words.size = "the wall's size";
  words.grid = "the wall's cells";
  words.recipe = "the recipe";
  words.which_blooms = "Paste the list of blooms, or say how many of each hang on a panel";
  words.how_large = "Give its size, or paste its cells";
  words.other_units = words.other_panel = words.other_title = "";
  return words;
}

// What couldn't be loaded again must not be shown either.
Result<LoadedPlan> readAgain(const Plan& plan, const std::vector<Guess>& guesses,
                             const std::filesystem::path& directory) {
  return readPlan(planText(plan, guesses), "first wall", directory);
}

// A bloom is known by its name: its row needn't be told.
std::vector<std::string> linesOf(std::vector<Guess> guesses) {
  for (Guess& guess : guesses) guess.from = {};
  return guessLines(guesses);
}

constexpr const char* bud_name = "bud";

void paint(Plan& plan, const Palette& palette) {
  std::size_t next = 0;
  for (Bloom& bloom : plan.blooms) {
    if (bloom.name == bud_name) {
      bloom.colours = palette.blooms;
      continue;
    }
    const auto* const shape = std::get_if<Shape>(&bloom.form);
    if (shape && takesWidth(*shape)) {
      bloom.colours = {palette.green};
      continue;
    }
    const auto& colours = palette.blooms;
    bloom.colours = {colours[next % colours.size()], colours[(next + 1) % colours.size()]};
    ++next;
  }
}

// A small bloom that may hide what stays bare.
void addBud(Plan& plan, const Palette& palette) {
  Bloom bud;
  bud.name = bud_name;
  bud.form = Shape::bud;
  bud.diameter = {plan.units == Units::inch ? 3.5 : plan.units == Units::centimetre ? 9.0 : 90.0};
  bud.colours = palette.blooms;
  bud.filler = true;
  if (!findBloom(plan, bud.name)) plan.blooms.push_back(std::move(bud));
}

// Without its scene.
Result<FirstWall> arrangedWall(const TablesInput& input, const std::filesystem::path& directory) {
  TablesInput in_window = input;
  in_window.words = windowWords();
  auto tables = planFromTables(in_window);
  if (!tables) return Result<FirstWall>::failure(std::move(tables.problems));
  const Arrangement arrangement = arrange(tables.value->request);
  const Plan plan = planWith(*tables.value, arrangement.grid, arrangement.layouts);
  auto loaded = readAgain(plan, tables.value->guesses, directory);
  if (!loaded) return Result<FirstWall>::failure(std::move(loaded.problems));
  loaded.value->places = {};
  FirstWall wall;
  wall.plan = std::make_shared<const LoadedPlan>(std::move(*loaded.value));
  wall.guesses = linesOf(tables.value->guesses);
  for (const Problem& warning : tables.warnings) wall.remarks.push_back(inWords(warning));
  wall.remarks.insert(wall.remarks.end(), arrangement.dealt.begin(), arrangement.dealt.end());
  wall.comes_to = tables.value->comes_to;
  wall.bare_share = arrangement.bare_share;
  wall.lacking = bloomsLacking(arrangement);
  return Result<FirstWall>::success(std::move(wall));
}

Result<FirstWall> withScene(Result<FirstWall> made) {
  if (!made) return made;
  auto scene = buildScene(*made.value->plan);
  if (!scene) return Result<FirstWall>::failure(std::move(scene.problems));
  made.value->scene = std::make_shared<const Scene>(std::move(*scene.value));
  return made;
}

}  // namespace

std::string inWords(const Problem& problem) {
  const Place& place = problem.place;
  if (place.file.empty()) return problem.message;
  std::string where = place.file;
  if (place.line > 0 && !place.letters.empty())
    where += fmt::format(", cell {}{}", place.letters, place.line);
  if (place.line > 0 && place.letters.empty()) where += fmt::format(", row {}", place.line);
  return where + ": " + problem.message;
}

std::span<const Palette> palettes() {
  static const std::array<Palette, 5> all{
      {{"clay and linen", {{178, 84, 58}, {226, 176, 148}, {240, 228, 208}, {128, 58, 46}}, {116, 126, 82}},
       {"dusk", {{110, 76, 112}, {186, 140, 160}, {232, 214, 214}, {74, 62, 96}}, {106, 120, 108}},
       {"meadow", {{232, 190, 84}, {240, 232, 206}, {214, 124, 92}, {176, 186, 120}}, {84, 112, 64}},
       {"sea mist", {{86, 126, 142}, {170, 196, 200}, {236, 236, 226}, {52, 82, 104}}, {126, 148, 128}},
       {"snow and gold",
        {{246, 242, 232}, {230, 218, 192}, {204, 168, 98}, {250, 249, 245}},
        {150, 160, 140}}}};
  return all;
}

Result<FirstWall> firstWall(const TablesInput& input, const std::filesystem::path& directory) {
  return withScene(arrangedWall(input, directory));
}

TablesInput tablesFrom(const Answers& answers) {
  TablesInput input;
  input.units = answers.units;
  input.panel = sides(answers.panel);
  input.size = sides(answers.wall);
  const std::array<std::pair<const char*, int>, 4> parts{{{"large", answers.large},
                                                          {"medium", answers.medium},
                                                          {"small", answers.small},
                                                          {"spray", answers.green}}};
  for (const auto& [name, count] : parts)
    if (count > 0) input.recipe += fmt::format("{}{}={}", input.recipe.empty() ? "" : ",", name, count);
  return input;
}

Result<FirstWall> firstWall(const Answers& answers) {
  auto made = arrangedWall(tablesFrom(answers), {});
  return made ? madeAnew(*made.value, answers) : made;
}

bool sameArrangement(const Answers& a, const Answers& b) {
  return a.units == b.units && a.panel == b.panel && a.wall == b.wall && a.large == b.large &&
         a.medium == b.medium && a.small == b.small && a.green == b.green;
}

Result<FirstWall> madeAnew(const FirstWall& wall, const Answers& answers) {
  const Palette& palette = palettes()[static_cast<std::size_t>(answers.palette) % palettes().size()];
  Plan plan = wall.plan->plan;
  addBud(plan, palette);
  paint(plan, palette);
  plan.wall.mounting = answers.frame ? Mounting::frame : Mounting::solidWall;
  plan.wall.room.depth = answers.free_floor;
  auto again = readAgain(plan, {}, {});
  if (!again) return Result<FirstWall>::failure(std::move(again.problems));
  again.value->places = {};
  FirstWall anew = wall;
  anew.plan = std::make_shared<const LoadedPlan>(std::move(*again.value));
  return withScene(Result<FirstWall>::success(std::move(anew)));
}

}  // namespace petalproof::app
