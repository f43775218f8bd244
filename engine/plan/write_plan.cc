#include "engine/plan/write_plan.h"

#include "engine/plan/internal/placement_text.h"
#include "engine/plan/internal/toml_text.h"
#include "engine/plan/plan_defaults.h"
#include "engine/plan/shape_names.h"

#include <fmt/format.h>

namespace petalproof::plan {
namespace {

std::string_view unitsKey(Units units) {
  switch (units) {
    case Units::inch: return "in";
    case Units::centimetre: return "cm";
    case Units::millimetre: return "mm";
  }
  return "mm";
}

std::string pairText(Length a, Length b) { return tomlList({tomlNumber(a), tomlNumber(b)}); }

void addLength(KeyList& keys, std::string_view key, std::optional<Length> length) {
  if (length) keys.add(key, tomlNumber(*length));
}

void addNumber(KeyList& keys, std::string_view key, double value, double usual) {
  if (value != usual) keys.add(key, tomlNumber(value));
}

void addCount(KeyList& keys, std::string_view key, std::optional<int> count) {
  if (count) keys.add(key, std::to_string(*count));
}

void addColour(KeyList& keys, std::string_view key, std::optional<Colour> colour) {
  if (colour) keys.add(key, tomlColour(*colour));
}

void addText(KeyList& keys, std::string_view key, const std::string& text) {
  if (!text.empty()) keys.add(key, tomlText(text));
}

void addTrue(KeyList& keys, std::string_view key, bool flag) {
  if (flag) keys.add(key, tomlFlag(flag));
}

// The keys before the first section, from format to variation.
std::string header(const Plan& plan) {
  constexpr std::uint64_t usual_seed = 1;
  KeyList keys;
  keys.add("format", "1");
  keys.add("title", tomlText(plan.title));
  keys.add("units", tomlText(unitsKey(plan.units)));
  if (plan.seed != usual_seed) keys.add("seed", std::to_string(plan.seed));
  addNumber(keys, "variation", plan.variation, 1);
  return keys.lines();
}

KeyList boardKeys(const Board& board, const Board& usual) {
  KeyList keys;
  if (board.thickness != usual.thickness) keys.add("thickness", tomlNumber(board.thickness));
  if (board.colour != usual.colour) keys.add("colour", tomlColour(board.colour));
  addColour(keys, "edge", board.edge);
  if (board.ground == Ground::covered) keys.add("ground", tomlText("covered"));
  return keys;
}

KeyList roomKeys(const Room& room) {
  KeyList keys;
  addColour(keys, "colour", room.colour);
  addLength(keys, "ceiling", room.ceiling);
  addLength(keys, "depth", room.depth);
  return keys;
}

std::string cellText(const Cell& cell) {
  if (!cell.hasPanel()) return tomlText("");
  return tomlText(cell.upside_down ? cell.layout + " upside down" : cell.layout);
}

std::string gridText(const Grid<Cell>& grid) {
  std::string text = "[\n";
  for (int row = 0; row < grid.rows(); ++row) {
    std::vector<std::string> cells;
    for (int column = 0; column < grid.columns(); ++column) cells.push_back(cellText(grid.at(column, row)));
    text += fmt::format("  {},\n", tomlList(cells));
  }
  return text + "]";
}

std::string wallSection(const Wall& wall, Units units) {
  const Wall usual = defaultWall(units);
  KeyList keys;
  keys.add("columns", std::to_string(wall.columns));
  keys.add("rows", std::to_string(wall.rows));
  keys.add("panel", pairText(wall.panel.width, wall.panel.height));
  if (wall.seam != usual.seam) keys.add("seam", tomlNumber(wall.seam));
  if (wall.above_floor != usual.above_floor) keys.add("above_floor", tomlNumber(wall.above_floor));
  const KeyList board = boardKeys(wall.board, usual.board);
  if (!board.empty()) keys.add("board", board.inLine());
  if (wall.behind != usual.behind) keys.add("behind", tomlColour(wall.behind));
  const KeyList room = roomKeys(wall.room);
  if (!room.empty()) keys.add("room", room.inLine());
  if (wall.mounting == Mounting::solidWall) keys.add("mounting", tomlText("solid wall"));
  keys.add("grid", gridText(wall.grid));
  return "\n[wall]\n" + keys.lines();
}

std::string coloursText(const std::vector<Colour>& colours) {
  std::vector<std::string> texts;
  for (const Colour colour : colours) texts.push_back(tomlColour(colour));
  return texts.size() == 1 ? texts.front() : tomlList(texts);
}

void addForm(KeyList& keys, const Bloom& bloom) {
  if (const auto* shape = std::get_if<Shape>(&bloom.form))
    keys.add("shape", tomlText(nameOf(*shape)));
  else
    keys.add("mesh", tomlText(std::get<MeshFile>(bloom.form).path));
}

void addCards(KeyList& keys, const std::vector<Card>& cards) {
  if (cards.empty()) return;
  if (cards.size() == 1 && cards.front().name.empty()) {
    keys.add("sheets", tomlNumber(cards.front().sheets));
    return;
  }
  std::vector<std::string> tables;
  for (const Card& card : cards) {
    KeyList table;
    table.add("name", tomlText(card.name));
    table.add("sheets", tomlNumber(card.sheets));
    tables.push_back(table.inLine());
  }
  keys.add("card", tomlList(tables));
}

std::string bloomSection(const Bloom& bloom) {
  KeyList keys;
  keys.add("name", tomlText(bloom.name));
  addText(keys, "label", bloom.label);
  addForm(keys, bloom);
  keys.add("diameter", tomlNumber(bloom.diameter));
  addLength(keys, "width", bloom.width);
  addLength(keys, "depth", bloom.depth);
  addCount(keys, "petals", bloom.petals);
  addCount(keys, "layers", bloom.layers);
  keys.add("colour", coloursText(bloom.colours));
  addCards(keys, bloom.card);
  addNumber(keys, "strips", bloom.strips, 0);
  addLength(keys, "plate", bloom.plate);
  addNumber(keys, "minutes", bloom.minutes, 0);
  addTrue(keys, "filler", bloom.filler);
  addCount(keys, "stock", bloom.stock);
  return "\n[[bloom]]\n" + keys.lines();
}

std::string layoutSection(const Layout& layout) {
  std::string blooms = "[\n";
  for (const Placement& placement : layout.blooms)
    blooms += fmt::format("  {},\n", placementKeys(placement).inLine());
  KeyList keys;
  keys.add("name", tomlText(layout.name));
  keys.add("blooms", layout.blooms.empty() ? "[]" : blooms + "]");
  return "\n[[layout]]\n" + keys.lines();
}

std::string fillerSection(const Filler& filler) { return "\n[[filler]]\n" + fillerKeys(filler).lines(); }

std::string sensorText(const Sensor& sensor) {
  if (!sensor.name.empty()) return tomlText(sensor.name);
  return tomlList({tomlNumber(sensor.width_mm), tomlNumber(sensor.height_mm)});
}

std::string lensText(const FocalLength& lens) {
  return lens.to_mm ? tomlList({tomlNumber(lens.mm), tomlNumber(*lens.to_mm)}) : tomlNumber(lens.mm);
}

std::string lookedAtText(const LookedAt& looked) {
  if (!looked.name.empty()) return tomlText(looked.name);
  KeyList keys;
  keys.add("width", tomlNumber(looked.width));
  keys.add("distance", tomlNumber(looked.distance));
  return keys.inLine();
}

std::string peopleText(const std::vector<Person>& people) {
  std::vector<std::string> tables;
  for (const Person& person : people) {
    KeyList keys;
    keys.add("height", tomlNumber(person.height));
    keys.add("at", pairText(person.right_of_centre, person.out_from_board));
    tables.push_back(keys.inLine());
  }
  return tomlList(tables);
}

std::string shotSection(const Shot& shot) {
  const Shot usual;
  KeyList keys;
  keys.add("name", tomlText(shot.name));
  addText(keys, "label", shot.label);
  keys.add("sensor", sensorText(shot.sensor));
  addTrue(keys, "upright", shot.upright);
  addNumber(keys, "megapixels", shot.megapixels, usual.megapixels);
  keys.add(shot.lens.full_frame_equivalent ? "lens_equivalent" : "lens", lensText(shot.lens));
  addNumber(keys, "aperture", shot.aperture, usual.aperture);
  keys.add("camera", tomlList({tomlNumber(shot.camera_right), tomlNumber(shot.camera_above_floor),
                               tomlNumber(shot.camera_out)}));
  keys.add("aim", pairText(shot.aim_right, shot.aim_above_floor));
  addLength(keys, "focus", shot.focus);
  if (shot.crop) keys.add("crop", tomlList({tomlNumber(shot.crop->width), tomlNumber(shot.crop->height)}));
  if (shot.looked_at) keys.add("looked_at", lookedAtText(*shot.looked_at));
  if (!shot.people.empty()) keys.add("people", peopleText(shot.people));
  return "\n[[shot]]\n" + keys.lines();
}

std::string handsSection(const Hands& hands) {
  KeyList keys;
  keys.add("bloom_size", tomlNumber(hands.bloom_size));
  keys.add("bloom_depth", tomlNumber(hands.bloom_depth));
  keys.add("place", tomlNumber(hands.place));
  keys.add("turn", tomlNumber(hands.turn_deg));
  keys.add("hang", tomlNumber(hands.hang));
  keys.add("step", tomlNumber(hands.step));
  return "\n[hands]\n" + keys.lines();
}

std::string readingSection(const ReadingThresholds& reading) {
  const ReadingThresholds usual;
  KeyList keys;
  addNumber(keys, "faint", reading.faint, usual.faint);
  if (reading.odd_faint != usual.odd_faint || reading.odd_shows != usual.odd_shows)
    keys.add("odd", fmt::format("[{}, {}]", tomlNumber(reading.odd_faint), tomlNumber(reading.odd_shows)));
  return keys.empty() ? "" : "\n[reading]\n" + keys.lines();
}

}  // namespace

std::string writePlan(const Plan& plan) {
  std::string text = header(plan) + wallSection(plan.wall, plan.units);
  for (const Bloom& bloom : plan.blooms) text += bloomSection(bloom);
  for (const Layout& layout : plan.layouts) text += layoutSection(layout);
  for (const Filler& filler : plan.fillers) text += fillerSection(filler);
  for (const Shot& shot : plan.shots) text += shotSection(shot);
  if (plan.hands) text += handsSection(*plan.hands);
  text += readingSection(plan.reading);
  return text;
}

}  // namespace petalproof::plan
