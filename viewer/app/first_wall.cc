#include "viewer/app/first_wall.h"

#include "engine/arrange/arrange.h"
#include "engine/base/length_text.h"
#include "engine/plan/default_shots.h"
#include "engine/plan/leaf_plate.h"
#include "engine/plan/shape_names.h"
#include "engine/tables/tables_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace petalproof::app {
namespace {

std::string sides(plan::Size size) { return fmt::format("{}x{}", size.width.value, size.height.value); }

// The names of the window's fields, for messages; `by_recipe`: the fields of the questions, not of the
// tables.
tables::InputWords windowWords(bool by_recipe) {
  tables::InputWords words;
  words.panel = "the panel's size";
  words.size = "the wall's size";
  words.grid = "the wall's cells";
  words.recipe = "the recipe";
  words.which_blooms =
      by_recipe ? "Say how many of each hang on a panel" : "Paste the list of blooms beside the cells";
  words.how_large = "Give its size, or paste its cells";
  words.other_units = words.other_panel = words.other_title = "";
  return words;
}

// Writes the plan as text and reads it back, so that a plan that breaks the file's rules is never shown.
Result<plan::LoadedPlan> readAgain(const plan::Plan& plan, const std::vector<tables::Guess>& guesses,
                                   const std::filesystem::path& directory) {
  return plan::readPlan(tables::planText(plan, guesses), "first wall", directory);
}

// Without the rows that the guesses are from: the window names blooms, not rows.
std::vector<std::string> linesOf(std::vector<tables::Guess> guesses) {
  for (tables::Guess& guess : guesses) guess.from = {};
  return tables::guessLines(guesses);
}

constexpr const char* bud_name = "bud";

// Gives buds all the palette's colours, leaves its green, other kinds a pair of colours each.
void paint(plan::Plan& plan, const Palette& palette) {
  std::size_t next = 0;
  for (plan::Bloom& bloom : plan.blooms) {
    if (bloom.name == bud_name) {
      bloom.colours = palette.blooms;
      continue;
    }
    const auto* const shape = std::get_if<plan::Shape>(&bloom.form);
    if (shape && plan::takesWidth(*shape)) {
      bloom.colours = {palette.green};
      continue;
    }
    const auto& colours = palette.blooms;
    bloom.colours = {colours[next % colours.size()], colours[(next + 1) % colours.size()]};
    ++next;
  }
}

// Adds two small kinds of filler: a bud, and a leaf, whose tip reaches where a bud has no room.
void addFillers(plan::Plan& plan, const Palette& palette) {
  const auto add = [&](const char* name, plan::Shape shape, double inches, double centimetres,
                       std::vector<Colour> colours) {
    plan::Bloom bloom;
    bloom.name = name;
    bloom.form = shape;
    bloom.diameter = {plan.units == Units::inch         ? inches
                      : plan.units == Units::centimetre ? centimetres
                                                        : 10 * centimetres};
    bloom.colours = std::move(colours);
    bloom.filler = true;
    if (plan::takesWidth(shape)) bloom.plate = plan::leafPlate(bloom.diameter, plan.units);
    if (!plan::findBloom(plan, bloom.name)) plan.blooms.push_back(std::move(bloom));
  };
  // Sizes in inches and in centimetres, each round in its unit: common practice, no source.
  add(bud_name, plan::Shape::bud, 3.5, 9, palette.blooms);
  add("leaf", plan::Shape::leaf, 5, 12, {palette.green});
}

// The share of the usual work that a hasty arrangement takes: short enough to show a wall while the careful
// arrangement goes on.
constexpr double hasty_care = 0.06;

// True where the wall made before answers the same request, at least as carefully.
bool fits(const FirstWall& before, tables::ArrangeRequest request) {
  const double care = std::exchange(request.care, before.asked.care);
  return request == before.asked && before.asked.care >= care;
}

// The wall without its scene.
Result<FirstWall> arrangedWall(const tables::TablesInput& input, const std::filesystem::path& directory,
                               Pace pace, const FirstWall* before) {
  tables::TablesInput in_window = input;
  in_window.words = windowWords(!input.grid && !input.blooms);
  auto tables = tables::planFromTables(in_window);
  if (!tables) return Result<FirstWall>::failure(std::move(tables.problems));
  FirstWall wall;
  wall.asked = tables.value->request;
  if (pace == Pace::hasty) wall.asked.care = hasty_care;
  if (before && fits(*before, wall.asked)) {
    wall.asked = before->asked;
    wall.arrangement = before->arrangement;
  } else {
    wall.arrangement = arrange::arrange(wall.asked);
  }
  const plan::Plan plan = tables::planWith(*tables.value, wall.arrangement.grid, wall.arrangement.layouts);
  auto loaded = readAgain(plan, tables.value->guesses, directory);
  if (!loaded) return Result<FirstWall>::failure(std::move(loaded.problems));
  loaded.value->places = {};
  wall.plan = std::make_shared<const plan::LoadedPlan>(std::move(*loaded.value));
  wall.guesses = linesOf(tables.value->guesses);
  for (const Problem& warning : tables.warnings) wall.remarks.push_back(inWords(warning));
  wall.remarks.insert(wall.remarks.end(), wall.arrangement.dealt.begin(), wall.arrangement.dealt.end());
  wall.comes_to = tables.value->comes_to;
  wall.bare_share = wall.arrangement.bare_share;
  wall.lacking = arrange::bloomsLacking(wall.arrangement);
  return Result<FirstWall>::success(std::move(wall));
}

// Tables don't name fillers: where no kind may be a filler, the smallest kind becomes one.
void letSmallestFill(FirstWall& wall) {
  plan::LoadedPlan loaded = *wall.plan;
  std::vector<plan::Bloom>& blooms = loaded.plan.blooms;
  const auto least = std::min_element(
      blooms.begin(), blooms.end(),
      [](const plan::Bloom& a, const plan::Bloom& b) { return a.diameter.value < b.diameter.value; });
  if (least == blooms.end() ||
      std::any_of(blooms.begin(), blooms.end(), [](const plan::Bloom& bloom) { return bloom.filler; }))
    return;
  least->filler = true;
  wall.guesses.push_back(fmt::format("\"{}\": may be a filler (the smallest)", least->name));
  wall.plan = std::make_shared<const plan::LoadedPlan>(std::move(loaded));
}

// A wall lower than people hangs behind their heads, with its upper edge at this height. Common practice, no
// source.
constexpr double upper_edge_mm = 2030;

// Hangs a low wall higher. Returns the sentence that says how high; empty where the wall stands on the floor.
std::string hangHigh(plan::Plan& plan) {
  const double height_mm = toMillimetres(plan::wallOutline(plan.wall).height, plan);
  const double step = plan.units == Units::millimetre ? 10 : 1;
  const double above = std::floor((upper_edge_mm - height_mm) / millimetresPer(plan.units) / step) * step;
  if (above <= 0) return {};
  plan.wall.above_floor = {above};
  return fmt::format("hangs {} above the floor, behind people's heads",
                     tapeText(toMillimetres(plan.wall.above_floor, plan), plan.units));
}

// Tables don't say how high the wall hangs: guesses it.
void hangHigh(FirstWall& wall) {
  plan::LoadedPlan loaded = *wall.plan;
  wall.hangs = hangHigh(loaded.plan);
  if (wall.hangs.empty()) return;
  wall.guesses.push_back(wall.hangs);
  wall.plan = std::make_shared<const plan::LoadedPlan>(std::move(loaded));
}

Result<FirstWall> withScene(Result<FirstWall> made) {
  if (!made) return made;
  auto scene = scene::buildScene(*made.value->plan);
  if (!scene) return Result<FirstWall>::failure(std::move(scene.problems));
  made.value->scene = std::make_shared<const scene::Scene>(std::move(*scene.value));
  return made;
}

// Moves a camera that stands beyond the free floor to the floor's edge and shortens its lens, so that the
// people (or the wall, where there are none) stay as large in the picture.
void keepOnFloor(plan::Shot& shot, double floor) {
  constexpr double least_share = 0.2;  // of the usual distance to the people: nobody photographs from nearer
  const double stand = shot.people.empty() ? 0 : shot.people.front().out_from_board.value;
  const double ratio = (floor - stand) / (shot.camera_out.value - stand);
  if (ratio >= 1 || ratio < least_share) return;
  shot.camera_out.value = floor;
  shot.camera_right.value *= ratio;
  shot.lens.mm = std::floor(shot.lens.mm * ratio);
}

// Empty where the free floor has room for the default shots; otherwise these shots moved onto the floor.
std::vector<plan::Shot> shotsOnFloor(const plan::Plan& plan, Length floor) {
  const std::vector<plan::Shot> usual = plan::defaultShots(plan);
  std::vector<plan::Shot> shots = usual;
  for (plan::Shot& shot : shots) keepOnFloor(shot, floor.value);
  return shots == usual ? std::vector<plan::Shot>{} : shots;
}

// Adds to an arranged wall the answers that the arrangement doesn't depend on: colours, fillers, mounting,
// room.
Result<FirstWall> finished(FirstWall wall, const Answers& answers) {
  const Palette& palette = palettes()[static_cast<std::size_t>(answers.palette) % palettes().size()];
  plan::Plan plan = wall.plan->plan;
  addFillers(plan, palette);
  paint(plan, palette);
  plan.wall.mounting = answers.frame ? plan::Mounting::frame : plan::Mounting::solidWall;
  plan.wall.room.depth = answers.free_floor;
  wall.hangs = hangHigh(plan);
  plan.shots = shotsOnFloor(plan, answers.free_floor);
  auto again = readAgain(plan, {}, {});
  if (!again) return Result<FirstWall>::failure(std::move(again.problems));
  again.value->places = {};
  wall.plan = std::make_shared<const plan::LoadedPlan>(std::move(*again.value));
  return withScene(Result<FirstWall>::success(std::move(wall)));
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
  static const std::array<Palette, 5> known{
      {{"clay and linen", {{178, 84, 58}, {226, 176, 148}, {240, 228, 208}, {128, 58, 46}}, {116, 126, 82}},
       {"dusk", {{110, 76, 112}, {186, 140, 160}, {232, 214, 214}, {74, 62, 96}}, {106, 120, 108}},
       {"meadow", {{232, 190, 84}, {240, 232, 206}, {214, 124, 92}, {176, 186, 120}}, {84, 112, 64}},
       {"sea mist", {{86, 126, 142}, {170, 196, 200}, {236, 236, 226}, {52, 82, 104}}, {126, 148, 128}},
       {"snow and gold",
        {{246, 242, 232}, {230, 218, 192}, {204, 168, 98}, {250, 249, 245}},
        {150, 160, 140}}}};
  return known;
}

Result<FirstWall> firstWall(const tables::TablesInput& input, const std::filesystem::path& directory,
                            Pace pace, const FirstWall* before) {
  auto made = arrangedWall(input, directory, pace, before);
  if (made) letSmallestFill(*made.value);
  if (made) hangHigh(*made.value);
  return withScene(std::move(made));
}

tables::TablesInput tablesFrom(const Answers& answers) {
  tables::TablesInput input;
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

Result<FirstWall> firstWall(const Answers& answers, Pace pace, const FirstWall* before) {
  auto made = arrangedWall(tablesFrom(answers), {}, pace, before);
  return made ? finished(std::move(*made.value), answers) : made;
}

}  // namespace petalproof::app
