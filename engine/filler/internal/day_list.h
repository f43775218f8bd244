#pragma once
// Fillers as they are listed for the day: on which panel, over what, when, what each hides, in which order.

#include "engine/filler/fill.h"
#include "engine/filler/internal/candidates.h"

#include <cstdint>
#include <vector>

namespace petalproof {

// Of a bloom on the wall: where on which panel, over what and when. The rest stays as it is.
void sayWhere(PlacedFiller& filler, const Plan& plan, const PanelGrid& panels, double plate_mm);

// Top row first, then from the left; on a panel those that go on the table first, then from the top.
bool hungBefore(const PlacedFiller& a, const PlacedFiller& b);

// What each of `fillers` hides of `all`, as `PlacedFiller::hides`, `hidden_mm2` and `rank`: what hides most
// of what is still to be hidden comes first.
void rankFillers(std::vector<PlacedFiller>& fillers, const std::vector<Candidate>& as_candidates,
                 const FillerMaker& maker, const PlaceGrid& grid, const MustHide& all, const Check& before);

std::vector<FillerTotal> totalsOf(const std::vector<PlacedFiller>& fillers, const Plan& plan,
                                  const FillOptions& options);

}  // namespace petalproof
