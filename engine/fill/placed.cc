#include "engine/fill/placed.h"

#include "engine/fill/internal/day_list.h"
#include "engine/fill/internal/filler_colours.h"

#include <algorithm>
#include <iterator>
#include <utility>

namespace petalproof::fill {
namespace {

PlacedFiller placedFrom(const Filling& filling, const candidates::Candidate& candidate, Colour colour) {
  const scene::FillerKind& kind = filling.maker.kinds()[candidate.kind];
  PlacedFiller placed;
  placed.kind = kind.kind;
  placed.colour = colour;
  placed.at = {candidate.site.board_mm};
  placed.filler.placement.bloom = filling.base.plan.blooms[static_cast<std::size_t>(kind.kind)].name;
  placed.filler.placement.at = candidate.site.at;
  placed.filler.placement.turn_deg = candidate.turn_deg;
  placed.filler.placement.colour = colour;
  sayWhere(placed, filling.base.plan, filling.scene.panels, kind.plate_mm);
  return placed;
}

std::vector<PlacedFiller> oldFillers(const Filling& filling) {
  std::vector<PlacedFiller> old;
  for (const scene::BloomInstance& bloom : filling.scene.blooms) {
    if (bloom.panel_column >= 0) continue;
    PlacedFiller filler;
    filler.filler = filling.base.plan.fillers[static_cast<std::size_t>(bloom.index)];
    filler.kind = bloom.kind;
    filler.colour = bloom.colour;
    filler.at = {bloom.at_mm};
    filler.raised_mm = bloom.raised_mm;
    filler.old = true;
    sayWhere(filler, filling.base.plan, filling.scene.panels, bloom.plate_mm);
    old.push_back(std::move(filler));
  }
  return old;
}

}  // namespace

std::vector<PlacedFiller> placed(const Filling& filling, std::vector<candidates::Candidate>& chosen) {
  const std::vector<Colour> colours = fillerColours(
      chosen, {filling.base.plan, filling.scene, filling.maker, filling.cameras, filling.workers});
  std::vector<std::pair<PlacedFiller, candidates::Candidate>> both;
  for (std::size_t k = 0; k < chosen.size(); ++k)
    both.emplace_back(placedFrom(filling, chosen[k], colours[k]), chosen[k]);
  std::sort(both.begin(), both.end(),
            [](const auto& a, const auto& b) { return hungBefore(a.first, b.first); });
  std::vector<PlacedFiller> list;
  chosen.clear();
  for (auto& [filler, candidate] : both) {
    list.push_back(std::move(filler));
    chosen.push_back(std::move(candidate));
  }
  return list;
}

plan::LoadedPlan filledPlan(const plan::LoadedPlan& base, const std::vector<PlacedFiller>& added) {
  plan::LoadedPlan filled = base;
  for (const PlacedFiller& filler : added) filled.plan.fillers.push_back(filler.filler);
  return filled;
}

void listFillers(const Filling& filling, const candidates::MustHide& first, std::vector<PlacedFiller> added,
                 const std::vector<candidates::Candidate>& chosen, FillResult& result) {
  rankFillers(added, chosen, filling.maker, filling.grid, first, result.before, filling.workers);
  result.count = static_cast<int>(added.size());
  result.totals = totalsOf(added, filling.base.plan, filling.options);
  const std::size_t kept = filling.base.plan.fillers.size();
  for (std::size_t k = 0; k < added.size(); ++k) result.added.push_back(static_cast<int>(kept + k));
  std::vector<PlacedFiller> fillers = oldFillers(filling);
  fillers.insert(fillers.end(), std::make_move_iterator(added.begin()), std::make_move_iterator(added.end()));
  std::stable_sort(fillers.begin(), fillers.end(), hungBefore);
  result.fillers = std::move(fillers);
}

}  // namespace petalproof::fill
