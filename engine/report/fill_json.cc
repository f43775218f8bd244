#include "engine/report/fill_json.h"

#include "engine/report/internal/check_json_keys.h"
#include "engine/report/internal/hanging_order.h"
#include "engine/report/internal/json_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

namespace petalproof::report {
namespace {

using json_text::append;
using json_text::Json;
using json_text::pairOf;

Json fillerJson(const fill::PlacedFiller& filler, int listed) {
  Json json = {{"bloom", filler.filler.placement.bloom},
               {"colour", toHex(filler.colour)},
               {"at_mm", pairOf(filler.at.mm)},
               {"turn", filler.filler.placement.turn_deg},
               {"raised_mm", filler.raised_mm},
               {"panel", plan::cellName(filler.panel_column, filler.panel_row)},
               {"from_left_mm", filler.from_left_mm},
               {"from_top_mm", filler.from_top_mm}};
  if (filler.table_left_mm && filler.table_top_mm)
    append(json, {{"table_left_mm", *filler.table_left_mm}, {"table_top_mm", *filler.table_top_mm}});
  append(json, {{"over", filler.over},
                {"when", nameOf(filler.when)},
                {"number", listed},
                {"rank", filler.rank},
                {"hidden_mm2", filler.hidden_mm2},
                {"hides", filler.hides}});
  return json;
}

// The added fillers, or the old ones, in the order of the list.
Json fillersJson(const fill::FillResult& result, bool old) {
  const std::vector<int> numbers = listNumbers(result.fillers);
  std::vector<std::pair<int, std::size_t>> order;
  for (std::size_t i = 0; i < result.fillers.size(); ++i)
    if (result.fillers[i].old == old) order.emplace_back(numbers[i], i);
  std::sort(order.begin(), order.end());
  Json list = Json::array();
  for (const auto& [number, index] : order) list.push_back(fillerJson(result.fillers[index], number));
  return list;
}

Json leftJson(const fill::FillResult& result) {
  Json list = Json::array();
  for (const fill::LeftGap& gap : result.left) list.push_back({{"id", gap.id}, {"why", gap.why}});
  return list;
}

Json totalsJson(const FilledWall& wall) {
  Json list = Json::array();
  for (const fill::FillerTotal& total : wall.result.totals)
    list.push_back({{"bloom", wall.given.plan.blooms[static_cast<std::size_t>(total.kind)].name},
                    {"colour", toHex(total.colour)},
                    {"count", total.count},
                    {"spare", total.spare},
                    {"sheets", total.sheets},
                    {"minutes", total.minutes}});
  return list;
}

Json handsJson(const fill::HandsReport& hands) {
  return {{"walls", fmt::format("{}/{}", hands.asked.clean, hands.asked.of)},
          {"builds", hands.builds},
          {"clean", hands.clean},
          {"at_least", hands.at_least},
          {"confidence", hands.confidence},
          {"costs", hands.costs},
          {"clean_but_left", hands.clean_but_left},
          {"gaps_each", hands.gaps_each}};
}

}  // namespace

std::string fillJson(const FilledWall& wall) {
  const fill::FillResult& result = wall.result;
  Json json = checkKeys(result.before, wall.given, wall.before);
  append(json, {{"fillers", fillersJson(result, false)},
                {"kept", fillersJson(result, true)},
                {"count", result.count},
                {"at_least", result.at_least},
                {"left", leftJson(result)},
                {"totals", totalsJson(wall)}});
  if (result.hands) json["hands"] = handsJson(*result.hands);
  append(json, {{"notes", result.notes}, {"after", checkKeys(result.after, result.filled, wall.after)}});
  return json_text::textOf(json);
}

}  // namespace petalproof::report
