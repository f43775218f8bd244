#include "engine/plan/internal/read_shot.h"

#include "engine/plan/internal/named_tables.h"
#include "engine/plan/sensors.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <limits>

namespace petalproof::plan {
namespace {

// Wider than any camera's: the ranges stop typing errors and wrong units.
constexpr NumberRange sensor_range{1, 1000};
constexpr NumberRange lens_range{1, 10'000};
constexpr NumberRange aperture_range{0.5, 256};
constexpr NumberRange crop_range{0, 1'000'000, true};
constexpr std::string_view lens_words = "a number of mm, or the two ends of a zoom such as [70, 200]";
constexpr double longest_crop = 100;          // times as long as wide; longer pictures are typing errors
constexpr double fewest_megapixels = 0.0001;  // 100 pixels, the least that shows anything
constexpr double smallest_person_mm = 300;    // under a newborn child
constexpr double tallest_person_mm = 2750;    // over the tallest human known; value from memory
constexpr std::size_t most_people = 1000;     // keeps pictures and reports bounded

std::vector<std::string> sensorChoices() {
  std::vector<std::string> names;
  for (const Sensor& sensor : namedSensors()) names.push_back(sensor.name);
  return names;
}

Sensor readSensor(TableReader& table) {
  const Field field =
      table.needed("sensor", "sensor = \"full frame\", or [36, 24] for its width and height in mm");
  Sensor sensor;
  if (field.isText()) {
    const auto chosen = field.choice("sensor", sensorChoices());
    return chosen ? namedSensors()[*chosen] : sensor;
  }
  const auto sides = field.listOf(2, "a name such as \"full frame\", or width and height in mm");
  if (!sides) return sensor;
  const auto width = (*sides)[0].number(sensor_range, "mm");
  const auto height = (*sides)[1].number(sensor_range, "mm");
  assign(sensor.width_mm, width);
  assign(sensor.height_mm, height);
  if (width && height && *width < *height)
    field.wrong(fmt::format("\"sensor\" is higher than wide; write [{}, {}] and upright = true",
                            numberText(*height), numberText(*width)));
  return sensor;
}

void readZoom(const Field& field, FocalLength& lens) {
  const auto ends = field.listOf(2, lens_words);
  if (!ends) return;
  const auto from = (*ends)[0].number(lens_range, "mm");
  const auto to = (*ends)[1].number(lens_range, "mm");
  assign(lens.mm, from);
  lens.to_mm = to;
  if (!from || !to || *from < *to) return;
  if (*from == *to)
    field.wrong(fmt::format("\"{0}\" is a zoom whose ends are the same; write {0} = {1}", field.key(),
                            numberText(*to)));
  else
    field.wrong(fmt::format("\"{}\" is a zoom with its long end first; write [{}, {}]", field.key(),
                            numberText(*to), numberText(*from)));
}

FocalLength readLens(TableReader& table) {
  const Field field =
      table.neededOneOf("lens", "lens_equivalent", "its focal length in mm, such as lens = 50");
  FocalLength lens;
  lens.full_frame_equivalent = field.key() == "lens_equivalent";
  if (field.isList())
    readZoom(field, lens);
  else
    assign(lens.mm, field.number(lens_range, "mm"));
  return lens;
}

void readCamera(TableReader& table, Shot& shot, PlanPlaces& places) {
  const Field camera = table.needed("camera",
                                    "where it stands, such as camera = [0, 60, 150]: right of the wall's "
                                    "middle, above the floor, out from the board");
  places.shot_cameras.push_back(camera.given() ? camera.place() : table.place());
  const auto lengths =
      camera.listOf(3, "three lengths: right of the wall's middle, above the floor, out from the board");
  if (!lengths) return;
  assign(shot.camera_right, (*lengths)[0].length(LengthRange::any));
  assign(shot.camera_above_floor, (*lengths)[1].length(LengthRange::any));
  assign(shot.camera_out, (*lengths)[2].length(LengthRange::any));
}

void readAim(TableReader& table, Shot& shot, PlanPlaces& places) {
  const Field aim = table.needed("aim",
                                 "the point it looks at, such as aim = [0, 54]: right of the wall's middle, "
                                 "above the floor");
  places.shot_aims.push_back(aim.given() ? aim.place() : table.place());
  const auto both = aim.listOf(2, "two lengths: right of the wall's middle, above the floor");
  if (!both) return;
  assign(shot.aim_right, (*both)[0].length(LengthRange::any));
  assign(shot.aim_above_floor, (*both)[1].length(LengthRange::any));
}

void readFocus(TableReader& table, Shot& shot, PlanPlaces& places) {
  const Field focus = table.field("focus");
  places.shot_focuses.push_back(focus.given() ? focus.place() : table.place());
  assign(shot.focus, focus.length(LengthRange::positive));
}

std::optional<CropShape> readCrop(TableReader& table) {
  const Field field = table.field("crop");
  const auto both = field.listOf(2, "two numbers, width and height of the picture's shape, such as [8, 10]");
  if (!both) return std::nullopt;
  const auto width = (*both)[0].number(crop_range);
  const auto height = (*both)[1].number(crop_range);
  if (!width || !height) return std::nullopt;
  if (*width > longest_crop * *height || *height > longest_crop * *width)
    field.wrong("\"crop\" is more than 100 times as long as wide");
  return CropShape{*width, *height};
}

// "8x10": two numbers of inches.
bool isPrintSize(std::string_view text) {
  constexpr double largest_print = 1000;  // inches, larger than any poster
  for (int side = 0; side < 2; ++side) {
    double inches = 0;
    const auto [end, error] =
        std::from_chars(text.data(), text.data() + text.size(), inches, std::chars_format::fixed);
    if (error != std::errc() || !(inches > 0 && inches <= largest_print)) return false;
    text.remove_prefix(static_cast<std::size_t>(end - text.data()));
    if (side == 0 && !text.starts_with('x')) return false;
    if (side == 0) text.remove_prefix(1);
  }
  return text.empty();
}

std::optional<LookedAt> lookedAtNamed(TableReader& table, const Field& field) {
  const auto name = field.label();
  if (!name) return std::nullopt;
  constexpr std::string_view print = "print ";
  if (name->starts_with(print) && isPrintSize(std::string_view(*name).substr(print.size())))
    return LookedAt{*name, {}, {}};
  const std::vector<std::string> names = {"print 8x10", "phone", "album", "laptop"};
  if (std::find(names.begin(), names.end(), *name) != names.end()) return LookedAt{*name, {}, {}};
  std::string tail = table.findings().suggestion(*name, names);
  if (tail.empty())
    tail =
        "; write \"print 8x10\" or another size in inches, \"phone\", \"album\", \"laptop\", or "
        "{ width = ..., distance = ... }";
  field.wrong(fmt::format("unknown way to look at the picture {}{}", inQuotes(*name), tail));
  return std::nullopt;
}

std::optional<LookedAt> readLookedAt(TableReader& table) {
  const Field field = table.field("looked_at");
  if (field.isText()) return lookedAtNamed(table, field);
  auto sizes = field.table("\"looked_at\"", "a name such as \"print 8x10\", or { width = 8, distance = 13 }");
  if (!sizes) return std::nullopt;
  LookedAt looked;
  assign(looked.width, sizes->needed("width", "the picture's width").length(LengthRange::positive));
  assign(looked.distance,
         sizes->needed("distance", "how far the eye is from it").length(LengthRange::positive));
  sizes->finish();
  return looked;
}

void readHeight(TableReader& table, Units units, Person& person) {
  const Field field = table.needed("height", "how tall they are");
  const auto height = field.length(LengthRange::positive);
  if (!height) return;
  person.height = *height;
  const double mm = toMillimetres(*height, units);
  if (mm < smallest_person_mm || mm > tallest_person_mm)
    field.wrong(fmt::format("a person is 30 cm to 275 cm tall (12 to 108 in); {} here is {:.0f} cm",
                            numberText(height->value), mm / 10));
}

Person readPerson(TableReader table, Units units) {
  Person person;
  readHeight(table, units, person);
  const auto at = table
                      .needed("at",
                              "where they stand, such as at = [0, 48]: right of the wall's middle, out from "
                              "the board")
                      .listOf(2, "two lengths: right of the wall's middle, out from the board");
  if (at) {
    assign(person.right_of_centre, (*at)[0].length(LengthRange::any));
    assign(person.out_from_board, (*at)[1].length(LengthRange::zeroOrMore));
  }
  table.finish();
  return person;
}

std::vector<Person> readPeople(TableReader& table, Units units) {
  const Field field = table.field("people");
  std::vector<Person> people;
  const auto entries = field.list("a list such as [ { height = 66, at = [0, 48] } ]");
  if (!entries) return people;
  if (entries->size() > most_people) {
    field.wrong(
        fmt::format("{} people in a shot are more than the limit of {}", entries->size(), most_people));
    return people;
  }
  for (const Field& entry : *entries)
    if (auto person = entry.table("the person", "written as { height = 66, at = [0, 48] } each"))
      people.push_back(readPerson(*person, units));
  return people;
}

void readMegapixels(TableReader& table, double limit, Shot& shot) {
  const Field field = table.field("megapixels");
  const auto megapixels = field.number({0, std::numeric_limits<double>::max(), true});
  if (!megapixels) return;
  if (*megapixels > limit)
    field.wrong(fmt::format("{} megapixels are more than the limit of {}", numberText(*megapixels),
                            numberText(limit)));
  else if (*megapixels < fewest_megapixels)
    field.wrong(fmt::format("\"megapixels\" must be at least {}", fewest_megapixels));
  shot.megapixels = *megapixels;
}

Shot readShot(TableReader table, Units units, const PlanLimits& limits, Names& names, PlanPlaces& places) {
  Shot shot;
  shot.name = readName(table, "shot", names);
  assign(shot.label, table.field("label").label());
  shot.sensor = readSensor(table);
  assign(shot.upright, table.field("upright").flag());
  readMegapixels(table, limits.megapixels, shot);
  shot.lens = readLens(table);
  assign(shot.aperture, table.field("aperture").number(aperture_range));
  readCamera(table, shot, places);
  readAim(table, shot, places);
  readFocus(table, shot, places);
  shot.crop = readCrop(table);
  shot.looked_at = readLookedAt(table);
  shot.people = readPeople(table, units);
  table.finish();
  return shot;
}

}  // namespace

std::vector<Shot> readShots(const Field& field, Units units, const PlanLimits& limits, PlanPlaces& places) {
  std::vector<TableReader> tables = tablesOf(field, "the shot");
  if (tables.size() > static_cast<std::size_t>(limits.shots)) {
    tables[static_cast<std::size_t>(limits.shots)].findings().problem(
        tables[static_cast<std::size_t>(limits.shots)].place(),
        fmt::format("the plan has {} shots, more than the limit of {}", tables.size(), limits.shots));
    return {};
  }
  Names names;
  std::vector<Shot> shots;
  for (TableReader& table : tables) {
    places.shots.push_back(table.place());
    shots.push_back(readShot(std::move(table), units, limits, names, places));
  }
  return shots;
}

}  // namespace petalproof::plan
