#pragma once
// Options and results of a filling: few fillers that hide what a plan's shots see bare, proved by the
// ordinary check of the filled plan. fillPlan (engine/hands/fill_plan.h) makes a FillResult; reports and the
// viewer read it.
//
// A filler hides a bare place if its mesh meets the ray from the shot's camera to the place. Fillings take no
// account of people: people move. Lengths in mm, wall frame, unless a name says tape.

#include "engine/base/colour.h"
#include "engine/base/frames.h"
#include "engine/base/problem.h"
#include "engine/candidates/must_hide.h"
#include "engine/check/check.h"
#include "engine/plan/read_plan.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace petalproof::fill {

using candidates::Hide;

// At least `clean` in `of` builds by imperfect hands are to be clean in every shot; 0: hands are taken as
// perfect.
struct CleanWalls {
  int clean = 19;
  int of = 20;
};

struct FillOptions {
  Hide hide = Hide::shows;
  std::optional<CleanWalls> walls;    // default: 19 in 20 where the plan has [hands], else perfect hands
  bool start_over = false;            // first remove old fillers that aren't fixed
  std::vector<std::string> shots;     // names; empty: all
  std::optional<std::uint64_t> seed;  // of the search; default: the plan's
  bool readings = true;  // under Hide::all, which needs no readings, say how each gap reads all the same
  double spare_small =
      0.15;  // spares to cut of kinds under 6 in, as a share of the count; at least fewest_small_spares each
  double spare_medium = 0.1;  // of larger kinds
  int fewest_small_spares = 3;
  std::function<void(double, const std::string&)>
      progress;          // gets the share done and words for the step; may be empty
  std::stop_token stop;  // once it is asked for, the filling ends by throwing Stopped (base/stopping.h)
};

enum class When { onTheTable, afterTaping };
const char* nameOf(When when);  // "on the table", "after taping"

struct PlacedFiller {
  plan::Filler
      filler;  // as it goes into the plan: bloom, at (from the wall's left and top edge), turn, colour, fixed
  int kind = 0;  // index into Plan::blooms
  Colour colour;
  BoardPoint at;
  double raised_mm = 0;
  bool old = false;  // was in the plan already
  // The panel that holds its centre (on a slit: the left or upper one), and where on it as hung.
  int panel_column = 0;
  int panel_row = 0;
  double from_left_mm = 0;
  double from_top_mm = 0;
  // Where on the panel as it lies on the table, for fillers that are taped there to an upside-down panel.
  std::optional<double> table_left_mm;
  std::optional<double> table_top_mm;
  std::string over;  // "B2|C2": the crossing, seam or panel that its plate sits on
  When when = When::onTheTable;
  int rank = 0;           // from 1, the filler that hides most first; 0 for old fillers
  double hidden_mm2 = 0;  // bare area, summed over the shots, that it hides and no filler ranked before it
  std::vector<std::string> hides;  // ids of gaps of the plan as given ("couple.1"), in order
};

struct LeftGap {
  std::string id;          // in FillResult::after
  std::string why;         // in words
  bool by_plates = false;  // there is no room for a base plate
};

struct FillerTotal {
  int kind = 0;
  Colour colour;
  int count = 0;
  int spare = 0;      // to cut in addition
  double sheets = 0;  // of the count, without spares
  double minutes = 0;
};

struct HandsReport {
  CleanWalls asked;
  int builds = 0;       // simulated builds that were not used to find the fillers
  int clean = 0;        // how many of them are clean in every shot
  double at_least = 0;  // share of all builds that are clean, with this confidence
  double confidence = 0.95;
  int costs = 0;           // additional fillers, against those for perfect hands
  int clean_but_left = 0;  // builds that are clean but for gaps that even perfect hands leave
  double gaps_each = 0;    // mean number of gaps that count in a build, all shots together
};

struct FillResult {
  check::Check before;                // of the plan as given (with `start_over`: without its old fillers)
  check::Check after;                 // of the filled plan: the proof
  std::vector<PlacedFiller> fillers;  // all of the filled plan, in the order of hanging: top row first, then
                                      // from the left; Plan::fillers of `filled` in the order of the plan
  int count = 0;                      // fillers added, without old fillers that stay
  int at_least = 0;                   // no placement hides the same with fewer: internal/hidden_by_answer.h
  std::vector<LeftGap> left;          // empty: proved
  std::vector<FillerTotal> totals;    // of the added fillers, by kind, then colour
  std::optional<HandsReport> hands;   // if hands aren't perfect
  std::vector<std::string> notes;     // worth saying, in words
  plan::LoadedPlan filled;            // kept fillers in their order, then added fillers in order of hanging
  std::vector<int> added;             // indices into filled.plan.fillers
  std::vector<int> kept;              // indices into the given plan's fillers, that `filled` begins with
};

}  // namespace petalproof::fill
