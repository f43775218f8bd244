#include "engine/report/fill_list.h"

#include "engine/base/length_text.h"
#include "engine/report/internal/fill_words.h"
#include "engine/report/internal/gap_words.h"
#include "engine/report/internal/hanging_order.h"
#include "engine/report/internal/shot_words.h"
#include "engine/report/internal/text_columns.h"
#include "engine/report/internal/text_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace petalproof::report {
namespace {

constexpr std::size_t ten_minutes = 6;  // fillers that go up in them
constexpr std::size_t named_left = 3;

std::string readWords(const check::ShotCheck& shot) {
  if (visibility::seesNoWall(shot.shares)) return "no wall in it";
  const check::ReadingCounts counts = check::countsOf(shot.readings);
  std::vector<std::string> parts;
  if (counts.show > 0) parts.push_back(counted(counts.show, "shows", "show"));
  if (counts.faint > 0) parts.push_back(fmt::format("{} faint", counts.faint));
  if (counts.lost > 0) parts.push_back(fmt::format("{} lost", counts.lost));
  if (shot.readings.empty() && !shot.found.holes.empty())
    parts.push_back(counted(static_cast<std::int64_t>(shot.found.holes.size()), "hole", "holes"));
  if (parts.empty() && shot.found.specks.count > 0) parts.push_back("specks only");
  return parts.empty() ? "nothing bare" : fmt::format("{}", fmt::join(parts, ", "));
}

std::string shotLines(const fill::FillResult& result) {
  TextTable table({false, false, false});
  table.add({"Shot", "Holes before", "With the fillers"});
  for (std::size_t i = 0; i < std::min(result.before.shots.size(), result.after.shots.size()); ++i)
    table.add({onOneLine(result.before.shots[i].shot.name), readWords(result.before.shots[i]),
               readWords(result.after.shots[i])});
  return table.lines(2);
}

std::string firstLines(const fill::FillResult& result, const std::vector<int>& numbers) {
  if (result.fillers.size() <= ten_minutes) return "";
  std::map<int, int> by_rank;
  // Those that were there hide nothing that the plan as given shows: they have no rank.
  for (std::size_t i = 0; i < result.fillers.size(); ++i)
    if (result.fillers[i].rank > 0) by_rank[result.fillers[i].rank] = numbers[i];
  if (by_rank.size() <= ten_minutes) return "";
  std::vector<int> first;
  for (const auto& entry : by_rank)
    if (first.size() < ten_minutes) first.push_back(entry.second);
  return fmt::format("\nIf you have ten minutes: these six, worst first: {}.\n", fmt::join(first, ", "));
}

std::string tableRemark(const fill::PlacedFiller& filler, Units units) {
  return fmt::format("on the table, with {} the other way up: {} from left, {} from top",
                     plan::cellName(filler.panel_column, filler.panel_row),
                     tapeText(*filler.table_left_mm, units), tapeText(*filler.table_top_mm, units));
}

std::vector<std::string> rowOf(const fill::PlacedFiller& filler, int number, const plan::Plan& plan) {
  const double turn = std::fmod(std::round(filler.filler.placement.turn_deg) + 360, 360);
  return {std::to_string(number),
          kindWords(plan, filler.kind),
          toHex(filler.colour),
          plan::cellName(filler.panel_column, filler.panel_row),
          tapeNumber(filler.from_left_mm, plan.units),
          tapeNumber(filler.from_top_mm, plan.units),
          fmt::format("{:.0f}", turn),
          sitsOnWords(filler.over),
          filler.rank > 0 ? std::to_string(filler.rank) : "",
          filler.old ? "there already" : ""};
}

std::string groupHead(const HangingGroup& group) {
  return fmt::format(
      "Row {}{}, {}", group.row, group.row == 1 ? " (top)" : "",
      group.when == fill::When::onTheTable ? "on the table, before its panels hang" : "after taping");
}

std::string placesLines(const fill::FillResult& result, const std::vector<int>& numbers,
                        const plan::Plan& plan) {
  if (result.fillers.empty()) return "";
  TextTable table({true, false, false, false, true, true, true, false, true, false});
  table.add({"", "Filler", "Colour", "Panel", "From left", "From top", "Turn", "Sits on", "Rank", ""});
  for (const HangingGroup& group : hangingGroups(result.fillers)) {
    table.heading("");
    table.heading(groupHead(group));
    for (const int index : group.fillers) {
      const fill::PlacedFiller& filler = result.fillers[static_cast<std::size_t>(index)];
      table.add(rowOf(filler, numbers[static_cast<std::size_t>(index)], plan));
      if (filler.table_left_mm && filler.table_top_mm) table.remark(tableRemark(filler, plan.units));
    }
  }
  const std::string places = fmt::format(
      "Where each goes: its middle, in {} from the left and the top edge of its panel as it hangs, seen from "
      "the front; turned clockwise by so many degrees. Rank 1 hides most.",
      plan.units == Units::inch ? "inches" : unitName(plan.units));
  std::string lines = "\n";
  lines += hanging("", places);
  return lines + table.lines(2);
}

std::string amountText(double amount) {
  std::string text = fmt::format("{:.2f}", amount);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string cutLines(const fill::FillResult& result, const plan::Plan& plan) {
  if (result.totals.empty()) return "";
  TextTable table({false, false, true, true, true, true});
  table.add({"Filler", "Colour", "To place", "Spare", "Sheets", "Time"});
  fill::FillerTotal all;
  for (const fill::FillerTotal& total : result.totals) {
    table.add({kindWords(plan, total.kind), toHex(total.colour), std::to_string(total.count),
               std::to_string(total.spare), amountText(total.sheets), minutesText(total.minutes)});
    all.count += total.count;
    all.spare += total.spare;
    all.sheets += total.sheets;
    all.minutes += total.minutes;
  }
  if (result.totals.size() > 1)
    table.add({"in all", "", std::to_string(all.count), std::to_string(all.spare), amountText(all.sheets),
               minutesText(all.minutes)});
  return "\nTo cut (sheets and time without the spares)\n" + table.lines(2);
}

const gaps::Gap* findGap(const check::Check& check, const std::string& id) {
  for (const check::ShotCheck& shot : check.shots)
    for (const gaps::Gap& gap : shot.found.gaps)
      if (check::idOf(shot, gap) == id) return &gap;
  return nullptr;
}

std::string leftWords(const FilledWall& wall, const std::string& id) {
  const gaps::Gap* gap = findGap(wall.result.after, id);
  const Units units = wall.given.plan.units;
  return gap == nullptr ? onOneLine(id)
                        : fmt::format("{}: {}, {}", onOneLine(id),
                                      whereInWords(*gap, wall.after.panels, units), sizeInWords(*gap, units));
}

// By reason, in the order in which the reasons first come up.
std::string leftLines(const FilledWall& wall) {
  std::vector<std::pair<std::string, std::vector<std::string>>> reasons;
  for (const fill::LeftGap& gap : wall.result.left) {
    auto at = std::find_if(reasons.begin(), reasons.end(),
                           [&](const auto& reason) { return reason.first == gap.why; });
    if (at == reasons.end()) at = reasons.insert(at, {gap.why, {}});
    at->second.push_back(gap.id);
  }
  std::string lines = reasons.empty() ? "" : "\nLeft, and why\n";
  for (const auto& [why, ids] : reasons) {
    lines += hanging("  ", onOneLine(why) + (ids.size() == 1 ? ":" : fmt::format(" ({}):", ids.size())));
    for (std::size_t i = 0; i < std::min(ids.size(), named_left); ++i)
      lines += hanging("    ", leftWords(wall, ids[i]));
    if (ids.size() > named_left) lines += fmt::format("    and {} more\n", ids.size() - named_left);
  }
  return lines;
}

}  // namespace

std::string fillList(const FilledWall& wall) {
  const fill::FillResult& result = wall.result;
  const plan::Plan& plan = wall.given.plan;
  const std::vector<int> numbers = listNumbers(result.fillers);
  std::string list = onOneLine(plan.title) + "\n";
  list += hanging("", countWords(result)) + hanging("", proofWords(result));
  if (const std::string hands = handsWords(result); !hands.empty()) list += hanging("", hands);
  for (const std::string& note : result.notes) list += hanging("", onOneLine(note));
  list += '\n';
  list += shotLines(result);
  list += firstLines(result, numbers);
  list += placesLines(result, numbers, plan);
  list += cutLines(result, plan);
  return list + leftLines(wall);
}

}  // namespace petalproof::report
