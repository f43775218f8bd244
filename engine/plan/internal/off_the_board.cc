#include "engine/plan/internal/off_the_board.h"

#include "engine/base/length_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <string_view>

namespace petalproof::plan {
namespace {

using Diameters = std::map<std::string_view, double>;

Diameters diametersOf(const Plan& plan) {
  Diameters diameters;
  for (const Bloom& bloom : plan.blooms) diameters[bloom.name] = bloom.diameter.value;
  return diameters;
}

// How far a place along an edge lies outside 0 to `length`.
double beyond(double place, double length) { return std::max({0.0, -place, place - length}); }

bool isOff(const TapePoint& at, const Size& board, double diameter) {
  const double across = beyond(at.from_left.value, board.width.value);
  const double down = beyond(at.from_top.value, board.height.value);
  return 4 * (across * across + down * down) > diameter * diameter;
}

std::string sizeText(const Size& size, Units units) {
  return fmt::format("{} x {} {}", numberText(size.width.value), numberText(size.height.value),
                     unitName(units));
}

}  // namespace

void warnOfBloomsOffTheBoard(const LoadedPlan& loaded, Findings& findings) {
  const Plan& plan = loaded.plan;
  const Diameters diameters = diametersOf(plan);
  const auto warnWhereOff = [&](const Placement& placement, const Size& board, std::string_view board_name,
                                Place place) {
    if (isOff(placement.at, board, diameters.at(placement.bloom)))
      findings.warning(std::move(place),
                       fmt::format("{} lies wholly off {} of {}; is \"at\" right?", inQuotes(placement.bloom),
                                   board_name, sizeText(board, plan.units)));
  };
  for (std::size_t k = 0; k < plan.layouts.size(); ++k)
    for (std::size_t i = 0; i < plan.layouts[k].blooms.size(); ++i)
      warnWhereOff(plan.layouts[k].blooms[i], plan.wall.panel, "its panel", loaded.places.placements[k][i]);
  for (std::size_t k = 0; k < plan.fillers.size(); ++k)
    warnWhereOff(plan.fillers[k].placement, wallOutline(plan.wall), "the wall", loaded.places.fillers[k]);
}

}  // namespace petalproof::plan
