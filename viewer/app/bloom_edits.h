#pragma once
// Changes to blooms, fillers and kinds of bloom (plan_edit.h).

#include "engine/plan/plan.h"
#include "viewer/app/references.h"

#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

// Blooms and fillers. `by` is as seen from the front on the wall: on an upside-down panel the layout's own
// places change the other way.
struct MoveBlooms {
  std::vector<BloomRef> blooms;
  plan::TapePoint by;
};
// On the layout's own panel, right way up; a filler on the wall.
struct PlaceBloom {
  BloomRef bloom;
  plan::TapePoint at;
};
struct TurnBlooms {
  std::vector<BloomRef> blooms;
  double by_deg = 0;  // clockwise seen from the front
};
struct SetTurn {
  std::vector<BloomRef> blooms;
  double turn_deg = 0;
};
struct RaiseBlooms {
  std::vector<BloomRef> blooms;
  Length raised;
};
struct ColourBlooms {
  std::vector<BloomRef> blooms;
  std::optional<Colour> colour;  // nothing: as the kind says
};
struct ExchangeBlooms {  // for another kind
  std::vector<BloomRef> blooms;
  std::string kind;
};
struct CopyBlooms {
  std::vector<BloomRef> blooms;
  plan::TapePoint by;
};
struct DeleteBlooms {
  std::vector<BloomRef> blooms;
};
// Into the layout of a cell, at a place of the panel as hung.
struct AddBloom {
  CellRef cell;
  std::string kind;
  plan::TapePoint at;
};
struct AddFiller {
  plan::Filler filler;
};
struct FixFillers {
  std::vector<int> fillers;  // indices into Plan::fillers
  bool fixed = true;
};
struct TakeFillersAway {
  bool fixed_too = false;
};
// What a search for fillers found.
struct SetFillers {
  std::vector<plan::Filler> fillers;
};

// Kinds of bloom, by their index in Plan::blooms. A new name is used by all that named the old one.
struct SetKind {
  int kind = 0;
  plan::Bloom bloom;
};
struct AddKind {
  plan::Bloom bloom;
};
struct DeleteKind {  // refused while it hangs somewhere
  int kind = 0;
};

}  // namespace petalproof::app
