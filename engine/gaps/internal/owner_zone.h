#pragma once
// Finds owners for whole rectangles of the board plane at once, and numbers owners as labels of runs.
// bareRuns calls it.

#include "engine/gaps/owner.h"

#include <cstdint>
#include <optional>

namespace petalproof::gaps {

// The owner at a place and, where that is simple, a rectangle around the place that has it throughout.
struct OwnerZone {
  Owner owner;
  std::optional<BoardRect> everywhere_in;
};
OwnerZone ownerZoneAt(const scene::PanelGrid& panels, BoardPoint bare_place);

// An owner as a number, never 0.
std::uint32_t labelOf(const Owner& owner, const scene::PanelGrid& panels);
Owner ownerFromLabel(std::uint32_t label, const scene::PanelGrid& panels);

}  // namespace petalproof::gaps
