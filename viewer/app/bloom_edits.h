#pragma once
// Edits of blooms, fillers and kinds of bloom: the values that panels hand to edited() (plan_edit.h).

#include "engine/plan/plan.h"
#include "viewer/app/references.h"

#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

// `by` is as seen from the front of the wall: on an upside-down panel the places in the layout change the
// other way.
struct MoveBlooms {
  std::vector<BloomRef> blooms;
  plan::TapePoint by;
};
// `at` is on the layout's panel hung right way up; for a filler, on the wall.
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
  std::optional<Colour> colour;  // nothing: the kind's colours
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
// Adds to the layout of a cell. `at` is on the panel as it hangs there.
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
// Replaces all fillers by the result of a search.
struct SetFillers {
  std::vector<plan::Filler> fillers;
};

// Kinds of bloom, by their index in Plan::blooms. Placements follow a kind that gets another name.
struct SetKind {
  int kind = 0;
  plan::Bloom bloom;
};
struct AddKind {
  plan::Bloom bloom;
};
struct DeleteKind {  // refused while a placement uses it
  int kind = 0;
};

}  // namespace petalproof::app
