#pragma once
// Fillers as they are listed for the day: on which panel, over what, when, what each hides, in which order.

#include "engine/candidates/candidates.h"
#include "engine/fill/fill.h"

#include <cstdint>
#include <vector>

namespace petalproof::fill {

// Of a bloom on the wall: where on which panel, over what and when. The rest stays as it is.
void sayWhere(PlacedFiller& filler, const plan::Plan& plan, const scene::PanelGrid& panels, double plate_mm);

// Top row first, then from the left; on a panel those that go on the table first, then from the top.
bool hungBefore(const PlacedFiller& a, const PlacedFiller& b);

// What each of `fillers` hides of `all`, as `PlacedFiller::hides`, `hidden_mm2` and `rank`: what hides most
// of what is still to be hidden comes first.
void rankFillers(std::vector<PlacedFiller>& fillers, const std::vector<candidates::Candidate>& as_candidates,
                 const scene::FillerMaker& maker, const candidates::PlaceGrid& grid,
                 const candidates::MustHide& all, const check::Check& before);

std::vector<FillerTotal> totalsOf(const std::vector<PlacedFiller>& fillers, const plan::Plan& plan,
                                  const FillOptions& options);

}  // namespace petalproof::fill
