#include "engine/hands/internal/hands_why.h"

#include "engine/base/length_text.h"
#include "engine/fill/why_left.h"
#include "engine/gaps/gaps.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::hands {
namespace {

// "on B2, 3 in from its left and 4 1/8 in from its top (why)".
std::string whereAndWhy(const candidates::SearchTask& task, const HandDemands& demands,
                        std::uint32_t demand) {
  const glm::dvec2 at = demands[demand].at_mm;
  const scene::PanelGrid& panels = task.scene.panels;
  const gaps::Owner owner = gaps::ownerOf(panels, {at});
  const std::vector<int> none_wanted(task.maker.kinds().size(), 0);
  const glm::dvec3 eye = demands.eyeOf(demand);
  const std::string why = fill::fillerThatFits(task, eye, at, {})
                              ? "what fits there hides it in some walls only"
                              : fill::whyLeft(task, eye, at, {}, none_wanted).words;
  const double from_left = at.x - panels.left_mm(owner.column);
  const double from_top = panels.top_mm(owner.row) - at.y;
  return fmt::format("on {}, {} from its left and {} from its top ({})",
                     plan::cellName(owner.column, owner.row),
                     tapeText(std::max(0.0, from_left), task.plan.units),
                     tapeText(std::max(0.0, from_top), task.plan.units), why);
}

std::string whyOnlyWorthIt(const SearchOutcome& found, const std::string& beyond_stock) {
  std::string best = "hardly any is";
  if (!found.hardly_any)
    best = fmt::format("no more than {} in {} were found to be, by {} fillers", found.best_clean,
                       found.builds, found.fillers_of_best);
  else
    best += beyond_stock.empty() ? ", however many fillers hang" : " without " + beyond_stock;
  return fmt::format(
      "with such hands {}: so only fillers that hide something in most walls were added; for other gaps cut "
      "spares and place them on the day",
      best);
}

}  // namespace

std::string moreThanStock(const candidates::SearchTask& task, const std::vector<int>& wanted_beyond_stock) {
  std::string kinds;
  for (std::size_t kind = 0; kind < wanted_beyond_stock.size(); ++kind) {
    const plan::Bloom& bloom = task.plan.blooms[static_cast<std::size_t>(task.maker.kinds()[kind].kind)];
    if (wanted_beyond_stock[kind] > 0 && bloom.stock)
      kinds +=
          fmt::format("{}{} more of {}", kinds.empty() ? "" : " and ", wanted_beyond_stock[kind], bloom.name);
  }
  return kinds;
}

std::optional<std::string> whyNotClean(const SearchOutcome& found, const fill::HandsReport& report) {
  if (report.builds == 0 || report.clean * found.asked.of >= report.builds * found.asked.clean)
    return std::nullopt;
  const std::string asked =
      fmt::format("{} walls in {} were to be clean; ", found.asked.clean, found.asked.of);
  const std::string beyond_stock = moreThanStock(found.task, found.wanted_beyond_stock);
  if (found.worth_only) return asked + whyOnlyWorthIt(found, beyond_stock);
  if (found.worst_hopeless)
    return asked + fmt::format("in {} of {} builds there is a gap that no filler hides, most often {}",
                               found.with_hopeless, found.builds,
                               whereAndWhy(found.task, found.demands, *found.worst_hopeless));
  if (beyond_stock.empty())
    return asked + "they aren't, because no further filler was found that fits where such hands leave gaps";
  return asked + fmt::format(
                     "they aren't, because the stock is used up: {} would hide more of the gaps that such "
                     "hands leave",
                     beyond_stock);
}

}  // namespace petalproof::hands
