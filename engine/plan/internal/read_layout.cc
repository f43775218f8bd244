#include "engine/plan/internal/read_layout.h"

#include "engine/plan/internal/named_tables.h"

#include <fmt/format.h>

namespace petalproof::plan {
namespace {

constexpr NumberRange turn_range{-360, 360};

TapePoint readAt(TableReader& table) {
  TapePoint at;
  const auto both =
      table.needed("at", "its place, such as at = [12, 10], from the left and from the top edge")
          .listOf(2, "two lengths, from the left and from the top edge");
  if (!both) return at;
  assign(at.from_left, (*both)[0].length(LengthRange::any));
  assign(at.from_top, (*both)[1].length(LengthRange::any));
  return at;
}

Placement readPlacement(TableReader& table, const Names& blooms) {
  Placement placement;
  const Field bloom = table.needed("bloom", "which bloom it is, by its name");
  if (const auto name = bloom.text()) {
    placement.bloom = *name;
    if (!blooms.mayHave(*name))
      bloom.wrong(fmt::format("unknown bloom {}{}", inQuotes(*name),
                              table.findings().unknownTail(*name, blooms.inOrder())));
  }
  placement.at = readAt(table);
  assign(placement.turn_deg, table.field("turn").number(turn_range, "degrees"));
  assign(placement.raised, table.field("raised").length(LengthRange::zeroOrMore));
  assign(placement.colour, table.colourField().colour());
  return placement;
}

std::vector<Placement> readPlacements(const Field& field, const Names& blooms, std::vector<Place>& places) {
  constexpr std::string_view meaning = "a list such as [ { bloom = \"rose\", at = [12, 10] } ]";
  std::vector<Placement> placements;
  const auto entries = field.list(meaning);
  if (!entries) return placements;
  for (const Field& entry : *entries) {
    auto table = entry.table("the bloom here", "written as { bloom = \"rose\", at = [12, 10] } each");
    if (!table) continue;
    places.push_back(table->place());
    placements.push_back(readPlacement(*table, blooms));
    table->finish();
  }
  return placements;
}

void checkLayoutName(TableReader& table, const std::string& name) {
  if (name.ends_with(upside_down_suffix) || name == upside_down_suffix.substr(1))
    table.field("name").wrong(
        "a layout's name can't end in \"upside down\": that is how a cell turns a layout; take another name");
}

Layout readLayout(TableReader table, const Names& blooms, Names& names, std::vector<Place>& places) {
  Layout layout;
  layout.name = readName(table, "layout", names);
  checkLayoutName(table, layout.name);
  layout.blooms = readPlacements(
      table.needed("blooms",
                   "the list of what is on it, such as blooms = [ { bloom = \"rose\", at = [12, 10] } ]"),
      blooms, places);
  table.finish();
  return layout;
}

}  // namespace

std::vector<Layout> readLayouts(const Field& field, const Names& blooms, Names& names,
                                std::vector<std::vector<Place>>& places) {
  std::vector<Layout> layouts;
  if (field.given() && !field.isList()) names.someAreUnread();
  for (TableReader& table : tablesOf(field, "the layout")) {
    places.emplace_back();
    layouts.push_back(readLayout(std::move(table), blooms, names, places.back()));
  }
  return layouts;
}

std::vector<Filler> readFillers(const Field& field, const Names& blooms, std::vector<Place>& places) {
  std::vector<Filler> fillers;
  for (TableReader& table : tablesOf(field, "the filler")) {
    places.push_back(table.place());
    Filler filler;
    filler.placement = readPlacement(table, blooms);
    assign(filler.fixed, table.field("fixed").flag());
    table.finish();
    fillers.push_back(std::move(filler));
  }
  return fillers;
}

}  // namespace petalproof::plan
