// Why fewer walls come out clean than were asked for, in words.

#include "engine/base/length_text.h"
#include "engine/fill/why_left.h"
#include "engine/gaps/gaps.h"
#include "engine/hands/internal/hands_search.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::hands {

// "12 more of bud and 3 more of sage"; empty where the stock isn't in the way.
std::string HandsSearch::moreThanStock() const {
  std::string more;
  for (std::size_t kind = 0; kind < wanted_.size(); ++kind) {
    const plan::Bloom& bloom = task_.plan.blooms[static_cast<std::size_t>(task_.maker.kinds()[kind].kind)];
    if (wanted_[kind] > 0 && bloom.stock)
      more += fmt::format("{}{} more of {}", more.empty() ? "" : " and ", wanted_[kind], bloom.name);
  }
  return more;
}

// "on B2, 3 in from its left and 4 1/8 in from its top (why)", where most walls are left unclean.
std::string HandsSearch::worstHopeless() const {
  const std::optional<std::uint32_t> worst = cover_.worstHopeless();
  if (!worst) return "";
  const glm::dvec2 at = cover_.demands()[*worst].at_mm;
  const scene::PanelGrid& panels = task_.scene.panels;
  const gaps::Owner owner = gaps::ownerOf(panels, {at});
  const std::vector<int> none_wanted(task_.maker.kinds().size(), 0);
  const glm::dvec3 eye = cover_.demands().eyeOf(*worst);
  const std::string why = fill::fillerThatFits(task_, eye, at, {})
                              ? "what fits there hides it in some walls only"
                              : fill::whyLeft(task_, eye, at, {}, none_wanted).words;
  const double from_left = at.x - panels.left_mm(owner.column);
  const double from_top = panels.top_mm(owner.row) - at.y;
  return fmt::format("on {}, {} from its left and {} from its top ({})",
                     plan::cellName(owner.column, owner.row),
                     tapeText(std::max(0.0, from_left), task_.plan.units),
                     tapeText(std::max(0.0, from_top), task_.plan.units), why);
}

// Empty where as many as asked for might come out clean.
std::string HandsSearch::whyLost() const {
  if (canBeEnough(lost_of_many_)) return "";
  const std::string where = worstHopeless();
  if (where.empty()) return "";
  return fmt::format("in {} of {} builds there is a gap that no filler hides, most often {}", lost_of_many_,
                     builds_to_be_sure, where);
}

std::string HandsSearch::whyOnlyWorthIt(const std::string& more) const {
  std::string best = "hardly any is";
  if (best_clean_ >= hardly_any_share * builds_to_be_sure)
    best = fmt::format("no more than {} in {} were found to be, by {} fillers", best_clean_,
                       builds_to_be_sure, fillers_of_best_);
  else
    best += more.empty() ? ", however many fillers hang" : " without " + more;
  return fmt::format(
      "with such hands {}: so only those were added that hide something in most walls, and spares are what "
      "helps on the day",
      best);
}

std::optional<std::string> HandsSearch::whyNotClean(const fill::HandsReport& report) const {
  if (report.builds == 0 || report.clean * asked_.of >= report.builds * asked_.clean) return std::nullopt;
  const std::string asked = fmt::format("{} walls in {} were to be clean; ", asked_.clean, asked_.of);
  const std::string more = moreThanStock();
  if (worth_only_) return asked + whyOnlyWorthIt(more);
  if (const std::string lost = whyLost(); !lost.empty()) return asked + lost;
  if (more.empty())
    return asked + "they aren't, because no more fillers were found that fit where such hands leave gaps";
  return asked +
         fmt::format(
             "they aren't, because the stock is used up: {} would hide more of what such hands leave bare",
             more);
}

}  // namespace petalproof::hands
