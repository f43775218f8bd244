#include "engine/plan/internal/placement_text.h"

namespace petalproof::plan {

KeyList placementKeys(const Placement& placement) {
  KeyList keys;
  keys.add("bloom", tomlText(placement.bloom));
  keys.add("at", tomlList({tomlNumber(placement.at.from_left), tomlNumber(placement.at.from_top)}));
  if (placement.turn_deg != 0) keys.add("turn", tomlNumber(placement.turn_deg));
  if (placement.raised.value != 0) keys.add("raised", tomlNumber(placement.raised));
  if (placement.colour) keys.add("colour", tomlColour(*placement.colour));
  return keys;
}

KeyList fillerKeys(const Filler& filler) {
  KeyList keys = placementKeys(filler.placement);
  if (filler.fixed) keys.add("fixed", tomlFlag(filler.fixed));
  return keys;
}

}  // namespace petalproof::plan
