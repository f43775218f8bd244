#include "engine/report/fill_json.h"

#include "engine/report/internal/check_keys.h"
#include "engine/report/internal/hanging_order.h"
#include "engine/report/internal/json_text.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::report {
namespace {

using json_text::number;
using json_text::pair;
using json_text::textOf;

std::string idsJson(const std::vector<std::string>& ids) {
  std::vector<std::string> quoted;
  for (const std::string& id : ids) quoted.push_back(textOf(id));
  return fmt::format("[{}]", fmt::join(quoted, ", "));
}

std::string tableJson(const fill::PlacedFiller& filler) {
  if (!filler.table_left_mm || !filler.table_top_mm) return "";
  return fmt::format(R"("table_left_mm": {}, "table_top_mm": {}, )", number(filler.table_left_mm),
                     number(filler.table_top_mm));
}

std::string fillerJson(const fill::PlacedFiller& filler, int listed) {
  return fmt::format(
      R"({{ "bloom": {}, "colour": "{}", "at_mm": {}, "turn": {}, "raised_mm": {}, "panel": "{}", )"
      R"("from_left_mm": {}, "from_top_mm": {}, {}"over": {}, "when": "{}", "number": {}, "rank": {}, )"
      R"("hidden_mm2": {}, "hides": {} }})",
      textOf(filler.filler.placement.bloom), toHex(filler.colour), pair(filler.at.mm),
      number(filler.filler.placement.turn_deg), number(filler.raised_mm),
      plan::cellName(filler.panel_column, filler.panel_row), number(filler.from_left_mm),
      number(filler.from_top_mm), tableJson(filler), textOf(filler.over), nameOf(filler.when), listed,
      filler.rank, number(filler.hidden_mm2), idsJson(filler.hides));
}

// Those added, or those that were there, in the order of the list.
std::string fillersJson(const fill::FillResult& result, bool old) {
  const std::vector<int> numbers = listNumbers(result.fillers);
  std::vector<std::pair<int, std::string>> items;
  for (std::size_t i = 0; i < result.fillers.size(); ++i)
    if (result.fillers[i].old == old)
      items.emplace_back(numbers[i], fillerJson(result.fillers[i], numbers[i]));
  std::sort(items.begin(), items.end());
  std::vector<std::string> texts;
  for (auto& item : items) texts.push_back(std::move(item.second));
  return json_text::list(texts, "  ");
}

std::string leftJson(const fill::FillResult& result) {
  std::vector<std::string> items;
  for (const fill::LeftGap& gap : result.left)
    items.push_back(fmt::format(R"({{ "id": {}, "why": {} }})", textOf(gap.id), textOf(gap.why)));
  return json_text::list(items, "  ");
}

std::string totalsJson(const FilledWall& wall) {
  std::vector<std::string> items;
  for (const fill::FillerTotal& total : wall.result.totals)
    items.push_back(fmt::format(
        R"({{ "bloom": {}, "colour": "{}", "count": {}, "spare": {}, "sheets": {}, "minutes": {} }})",
        textOf(wall.given.plan.blooms[static_cast<std::size_t>(total.kind)].name), toHex(total.colour),
        total.count, total.spare, number(total.sheets), number(total.minutes)));
  return json_text::list(items, "  ");
}

std::string handsJson(const fill::FillResult& result) {
  if (!result.hands) return "";
  const fill::HandsReport& hands = *result.hands;
  return fmt::format(
      "  \"hands\": {{ \"walls\": \"{}/{}\", \"builds\": {}, \"clean\": {}, \"at_least\": {}, "
      "\"confidence\": {}, \"costs\": {}, \"clean_but_left\": {}, \"gaps_each\": {} }},\n",
      hands.asked.clean, hands.asked.of, hands.builds, hands.clean, number(hands.at_least),
      number(hands.confidence), hands.costs, hands.clean_but_left, number(hands.gaps_each));
}

// Two blanks before each line but the first.
std::string indented(const std::string& text) {
  std::string result;
  for (const char c : text) {
    result += c;
    if (c == '\n') result += "  ";
  }
  return result;
}

}  // namespace

std::string fillJson(const FilledWall& wall) {
  const fill::FillResult& result = wall.result;
  const std::string after = fmt::format("{{\n{}\n}}", checkKeys(result.after, result.filled, wall.after));
  return fmt::format(R"({{
{},
  "fillers": {},
  "kept": {},
  "count": {},
  "at_least": {},
  "left": {},
  "totals": {},
{}  "notes": {},
  "after": {}
}}
)",
                     checkKeys(result.before, wall.given, wall.before), fillersJson(result, false),
                     fillersJson(result, true), result.count, result.at_least, leftJson(result),
                     totalsJson(wall), handsJson(result), idsJson(result.notes), indented(after));
}

}  // namespace petalproof::report
