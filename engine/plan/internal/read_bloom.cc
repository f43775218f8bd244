#include "engine/plan/internal/read_bloom.h"

#include "engine/plan/internal/named_tables.h"
#include "engine/plan/shape_names.h"

#include <fmt/format.h>

namespace petalproof::plan {
namespace {

// These ranges stop typing errors: nobody cuts or buys so much for a bloom. scene/shapes.h draws up to 60
// petals and 8 layers.
constexpr WholeRange petal_range{1, 60};
constexpr WholeRange layer_range{1, 8};
constexpr WholeRange stock_range{0, 1'000'000};
constexpr NumberRange sheet_range{0, 10'000};
constexpr NumberRange strip_range{0, 10'000};
constexpr NumberRange minute_range{0, 100'000};

std::vector<std::string> shapeChoices() { return {shapeNames().begin(), shapeNames().end()}; }

void readForm(TableReader& table, Bloom& bloom, Place& place) {
  const Field form = table.neededOneOf(
      "shape", "mesh", "shape = \"dahlia\" or another shape, or mesh = \"my-bloom.obj\" for one of your own");
  if (form.key() == "mesh") {
    if (form.given()) place = form.place();
    if (const auto path = form.path()) bloom.form = MeshFile{*path};
  } else if (const auto shape = form.choice("shape", shapeChoices())) {
    bloom.form = static_cast<Shape>(*shape);
  }
}

// Whether the bloom has a readable shape or mesh.
bool formIsKnown(TableReader& table) { return table.field("shape").isText() || table.field("mesh").given(); }

void readWidth(TableReader& table, Bloom& bloom) {
  const Field width = table.field("width");
  assign(bloom.width, width.length(LengthRange::positive));
  const auto* shape = std::get_if<Shape>(&bloom.form);
  if (!bloom.width || !formIsKnown(table)) return;
  if (!shape || !takesWidth(*shape))
    width.wrong("only leaf, leaf spray and fern have a \"width\"; others are round, take it away");
  else if (bloom.diameter.value > 0 && *bloom.width > bloom.diameter)
    width.wrong("\"width\" is more than \"diameter\", which is the length here; exchange them");
}

void readCounts(TableReader& table, Bloom& bloom) {
  const Field petals = table.field("petals");
  const Field layers = table.field("layers");
  assign(bloom.petals, petals.whole(petal_range));
  assign(bloom.layers, layers.whole(layer_range));
  if (!std::holds_alternative<MeshFile>(bloom.form)) return;
  for (const Field& count : {petals, layers})
    if (count.given())
      count.wrong(fmt::format("a mesh is as it is, \"{}\" can't change it; take it away", count.key()));
}

void readSizes(TableReader& table, Bloom& bloom) {
  assign(bloom.diameter,
         table.needed("diameter", "how wide it is, such as diameter = 12").length(LengthRange::positive));
  readWidth(table, bloom);
  assign(bloom.depth, table.field("depth").length(LengthRange::positive));
  const Field plate = table.field("plate");
  assign(bloom.plate, plate.length(LengthRange::positive));
  if (bloom.plate && bloom.diameter.value > 0 && *bloom.plate > bloom.diameter)
    plate.wrong("\"plate\", the disc that is stuck to the board, is wider than the bloom");
}

std::vector<Colour> readColours(TableReader& table) {
  const Field field = table.neededColour("colour = \"#b5382a\", or a list of several");
  std::vector<Colour> colours;
  if (!field.isList()) {
    if (const auto colour = field.colour()) colours.push_back(*colour);
    return colours;
  }
  const auto entries = field.list("a list of colours");
  for (const Field& entry : *entries)
    if (const auto colour = entry.colour()) colours.push_back(*colour);
  if (entries->empty())
    field.wrong(fmt::format("\"{}\" is an empty list; give at least one colour", field.key()));
  return colours;
}

Card readCard(TableReader table) {
  Card card;
  assign(card.name, table.needed("name", "the card's name, such as name = \"gold foil\"").name());
  assign(card.sheets, table.needed("sheets", "how many sheets, such as sheets = 1").number(sheet_range));
  table.finish();
  return card;
}

std::vector<Card> readCards(TableReader& table) {
  const Field field = table.oneOf("sheets", "card");
  std::vector<Card> cards;
  if (field.key() == "sheets") {
    if (const auto sheets = field.number(sheet_range)) cards.push_back({"", *sheets});
  } else if (const auto entries = field.list("a list such as [ { name = \"gold foil\", sheets = 1 } ]")) {
    for (const Field& entry : *entries)
      if (const auto card = entry.table("the card", "{ name = ..., sheets = ... }"))
        cards.push_back(readCard(*card));
  }
  return cards;
}

Bloom readBloom(TableReader table, Names& names, Place& place) {
  Bloom bloom;
  bloom.name = readName(table, "bloom", names);
  assign(bloom.label, table.field("label").label());
  readForm(table, bloom, place);
  readSizes(table, bloom);
  readCounts(table, bloom);
  bloom.colours = readColours(table);
  bloom.card = readCards(table);
  assign(bloom.strips, table.field("strips").number(strip_range));
  assign(bloom.minutes, table.field("minutes").number(minute_range));
  assign(bloom.filler, table.field("filler").flag());
  assign(bloom.stock, table.field("stock").whole(stock_range));
  table.finish();
  return bloom;
}

}  // namespace

std::vector<Bloom> readBlooms(const Field& field, Names& names, std::vector<Place>& places) {
  std::vector<Bloom> blooms;
  if (field.given() && !field.isList()) names.someAreUnread();
  for (TableReader& table : tablesOf(field, "the bloom")) {
    places.push_back(table.place());
    blooms.push_back(readBloom(std::move(table), names, places.back()));
  }
  return blooms;
}

}  // namespace petalproof::plan
