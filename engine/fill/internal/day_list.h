#pragma once
// Completes placed fillers for the list of the day: their panel, what they sit on, when they are taped, what
// each hides, and the order of hanging. placed.cc calls it.

#include "engine/base/pool.h"
#include "engine/candidates/candidates.h"
#include "engine/fill/fill.h"

#include <cstdint>
#include <vector>

namespace petalproof::fill {

// Sets a filler's panel, its place on it, `over` and `when` from its place on the wall.
void sayWhere(PlacedFiller& filler, const plan::Plan& plan, const scene::PanelGrid& panels, double plate_mm);

// The order of hanging: top row first, then from the left; on a panel fillers taped on the table first, then
// from the top.
bool hungBefore(const PlacedFiller& a, const PlacedFiller& b);

// Sets `hides`, `hidden_mm2` and `rank` of the fillers by what they hide of `must_hide`. Each rank goes to
// the filler that hides most of what fillers ranked before it don't.
void rankFillers(std::vector<PlacedFiller>& fillers, const std::vector<candidates::Candidate>& as_candidates,
                 const scene::FillerMaker& maker, const candidates::PlaceGrid& grid,
                 const candidates::MustHide& must_hide, const check::Check& before, const Pool& workers);

// Sums the new fillers up by kind and colour, with spares.
std::vector<FillerTotal> totalsOf(const std::vector<PlacedFiller>& fillers, const plan::Plan& plan,
                                  const FillOptions& options);

}  // namespace petalproof::fill
