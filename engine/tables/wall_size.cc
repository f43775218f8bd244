#include "engine/tables/wall_size.h"

#include "engine/base/length_text.h"
#include "engine/plan/read_plan.h"
#include "engine/tables/internal/table_values.h"
#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::tables {
namespace {

// Area of all blooms against the board's: petals overlap. Common practice, no source.
constexpr double usual_density = 1.3;
constexpr double smallest_mm = 1;       // of a panel's or wall's side: smaller ones are wrong units
constexpr double largest_mm = 100'000;  // longer than any wall of blooms

std::optional<plan::Size> split(std::string_view text, std::string_view between, Units units) {
  const auto at = text.find(between);
  if (at == std::string_view::npos) return std::nullopt;
  const Units read_in = unitsNamed(text).value_or(units);
  const auto width = lengthFromText(text.substr(0, at), read_in);
  const auto height = lengthFromText(text.substr(at + between.size()), read_in);
  if (!width || !height) return std::nullopt;
  if (read_in == units) return plan::Size{*width, *height};
  const double factor = millimetresPer(read_in) / millimetresPer(units);
  return plan::Size{{std::round(width->value * factor * 1000) / 1000},
                    {std::round(height->value * factor * 1000) / 1000}};
}

int nearestCount(double asked, double panel, int limit) {
  return static_cast<int>(std::clamp(std::floor(asked / panel + 0.5), 1.0, static_cast<double>(limit)));
}

// "4 in wider"; empty if the difference is too small for a tape.
std::string differenceText(double more_mm, std::string_view larger, std::string_view smaller, Units units) {
  constexpr double as_asked_mm = 0.5;
  if (std::abs(more_mm) < as_asked_mm) return {};
  return fmt::format("{} {}", tapeText(std::abs(more_mm), units), more_mm > 0 ? larger : smaller);
}

std::string againstAsked(plan::Size real, plan::Size asked, Units units) {
  const double mm = millimetresPer(units);
  std::vector<std::string> differences;
  const std::string across =
      differenceText((real.width.value - asked.width.value) * mm, "wider", "narrower", units);
  const std::string down =
      differenceText((real.height.value - asked.height.value) * mm, "taller", "lower", units);
  for (const std::string& difference : {across, down})
    if (!difference.empty()) differences.push_back(difference);
  return differences.empty() ? ", as asked" : fmt::format(", {} than asked", joined(differences, " and "));
}

std::string sizeText(plan::Size size, Units units) {
  const auto side = [&](Length length) { return tapeNumber(toMillimetres(length, units), units); };
  return fmt::format("{} \u00d7 {} {}", side(size.width), side(size.height), unitName(units));
}

}  // namespace

std::optional<plan::Size> widthAndHeight(std::string_view text, Units units) {
  const std::string plain = lowerCase(text);
  std::optional<plan::Size> found;
  for (const std::string_view between : {"x", "\u00d7", "*", " by ", ","})
    if (!found) found = split(plain, between, units);
  const auto fits = [&](Length side) {
    const double mm = toMillimetres(side, units);
    return mm >= smallest_mm && mm <= largest_mm;
  };
  return found && fits(found->width) && fits(found->height) ? found : std::nullopt;
}

plan::Size usualPanel(Units units) {
  switch (units) {
    case Units::inch: return {{20}, {16}};
    case Units::centimetre: return {{50}, {40}};
    case Units::millimetre: return {{500}, {400}};
  }
  return {{20}, {16}};
}

PanelCount panelsNearest(plan::Size asked, plan::Size panel) {
  const plan::PlanLimits limits;
  return {nearestCount(asked.width.value, panel.width.value, limits.columns),
          nearestCount(asked.height.value, panel.height.value, limits.rows)};
}

PanelCount panelsForArea(double area_mm2, plan::Size panel, Units units) {
  const double width = toMillimetres(panel.width, units);
  const double height = toMillimetres(panel.height, units);
  const plan::PlanLimits limits;
  const double wanted = std::clamp(area_mm2 / (usual_density * width * height), 1.0,
                                   static_cast<double>(limits.columns) * limits.rows);
  PanelCount best;
  double best_score = 0;
  for (int rows = 1; rows <= limits.rows; ++rows) {
    const int columns = nearestCount(wanted, rows, limits.columns);
    const double off_square = std::abs(std::log(columns * width / (rows * height)));
    const double off_count = std::abs(std::log(columns * rows / wanted));
    constexpr double count_matters =
        2;  // an error in the count weighs more than a shape off the square; by trial
    const double score = off_square + count_matters * off_count;
    if (best.rows > 0 && score >= best_score) continue;
    best = {columns, rows};
    best_score = score;
  }
  return best;
}

std::string whatItComesTo(const plan::Wall& wall, std::optional<plan::Size> asked, Units units) {
  const plan::Size boards{{wall.columns * wall.panel.width.value}, {wall.rows * wall.panel.height.value}};
  std::string text = fmt::format("{} \u00d7 {} panel{} of {}: {}", wall.columns, wall.rows,
                                 wall.columns * wall.rows == 1 ? "" : "s", sizeText(wall.panel, units),
                                 sizeText(boards, units));
  if (asked) text += againstAsked(boards, *asked, units);
  const auto seams = [&](int panels, std::string_view way) {
    const double mm = toMillimetres({(panels - 1) * wall.seam.value}, units);
    return mm > 0 ? fmt::format("{} {}", tapeText(mm, units), way) : std::string();
  };
  std::vector<std::string> added;
  for (const std::string& width : {seams(wall.columns, "across"), seams(wall.rows, "down")})
    if (!width.empty()) added.push_back(width);
  return added.empty() ? text : text + "; the open seams add " + joined(added, " and ");
}

Grid<plan::Cell> layoutsInTurn(PanelCount count, std::vector<std::string> names) {
  if (names.empty()) names = {"one", "two", "three", "four"};
  const int panels = count.columns * count.rows;
  if (static_cast<int>(names.size()) > panels) names.resize(static_cast<std::size_t>(panels));
  const int kinds = static_cast<int>(names.size());
  const int step = kinds > 2 && count.columns > 1 ? 2 : 1;
  Grid<plan::Cell> grid(count.columns, count.rows);
  std::vector<int> times(names.size(), 0);
  for (int row = 0; row < count.rows; ++row) {
    for (int column = 0; column < count.columns; ++column) {
      const auto kind = static_cast<std::size_t>((column + step * row) % kinds);
      grid.at(column, row) = {names[kind], times[kind] % 2 == 1};
      ++times[kind];
    }
  }
  return grid;
}

}  // namespace petalproof::tables
