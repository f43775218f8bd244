#pragma once
// The fewest fillers that hide what a plan's shots see bare, proved by the ordinary check of the filled plan.
//
// A place that a shot sees bare is hidden by a filler whose own mesh meets the ray from that shot's camera to
// it. Fillings take no account of people: people move. Lengths in mm, wall frame, unless a name says tape.

#include "engine/base/colour.h"
#include "engine/base/frames.h"
#include "engine/base/problem.h"
#include "engine/check/check.h"
#include "engine/plan/read_plan.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::fill {

// What has to be hidden: gaps that show; those and faint ones; all that is seen bare, specks too.
enum class Hide { shows, faint, all };

// Of the builds by imperfect hands at least `clean` in `of` are to be clean in every shot; 0: perfect hands.
struct CleanWalls {
  int clean = 19;
  int of = 20;
};

struct FillOptions {
  Hide hide = Hide::shows;
  std::optional<CleanWalls> walls;    // default: 19 in 20 where the plan has [hands], else perfect hands
  bool start_over = false;            // take old fillers away first, but for those fixed by hand
  std::vector<std::string> shots;     // names; empty: all
  std::optional<std::uint64_t> seed;  // of the search; default: the plan's
  bool readings = true;  // under `all`, where nothing depends on them, also say how each gap reads
  int threads = 0;       // 0: as many as the machine has; the result doesn't depend on it
  double spare_small =
      0.15;  // spares to cut, share of the count, of kinds under 6 in; at least three of each
  double spare_medium = 0.1;  // of larger ones
  int fewest_small_spares = 3;
  std::function<void(double, const std::string&)>
      progress;  // the share done, what is being done; may be empty; what it throws ends the filling
  std::function<bool()> cancelled;  // asked between steps; may be empty
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
  // Where on it before it is hung, of one that goes on upside-down panels on the table.
  std::optional<double> table_left_mm;
  std::optional<double> table_top_mm;
  std::string over;  // "B2|C2": the crossing, seam or panel that its plate sits on
  When when = When::onTheTable;
  int rank = 0;           // from 1, what hides most first; old ones too
  double hidden_mm2 = 0;  // what the shots would see bare, added up, without it and those ranked after
  std::vector<std::string> hides;  // ids of gaps of the plan as given ("couple.1"), in order
};

struct LeftGap {
  std::string id;          // of the check after
  std::string why;         // in words
  bool by_plates = false;  // for want of room for a base plate
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
  int builds = 0;       // looked at that were not used to find the fillers
  int clean = 0;        // of those, clean in every shot
  double at_least = 0;  // share of builds that are clean, with this confidence
  double confidence = 0.95;
  int costs = 0;           // fillers more than were proved for perfect hands
  int clean_but_left = 0;  // of the builds, clean but for where perfect hands leave gaps too
  double gaps_each = 0;    // gaps that count in a build, of all shots, on the average
};

struct FillResult {
  check::Check before;                // of the plan as given (with `start_over`: without its old fillers)
  check::Check after;                 // of the filled plan: the proof
  std::vector<PlacedFiller> fillers;  // all of the filled plan, in the order of hanging: top row first, then
                                      // from the left; Plan::fillers of `filled` in the order of the plan
  int count = 0;                      // fillers added (old ones that stay don't count)
  int at_least = 0;                   // no placement hides the same with fewer added
  std::vector<LeftGap> left;          // empty: proved
  std::vector<FillerTotal> totals;    // of the added ones, by kind, then colour
  std::optional<HandsReport> hands;   // where hands aren't perfect
  std::vector<std::string> notes;     // worth saying, in words
  plan::LoadedPlan filled;            // kept fillers in their order, then the added ones in order of hanging
  std::vector<int> added;             // indices into filled.plan.fillers
  std::vector<int> kept;              // indices into the given plan's fillers, that `filled` begins with
  bool cancelled = false;             // then what was found so far, not proved
};

// Problems: as of buildScene and runCheck; a plan in which no bloom may be used as a filler where one is
// needed is no problem: `left` says so.
Result<FillResult> fillPlan(const plan::LoadedPlan& loaded, const FillOptions& options = {});

}  // namespace petalproof::fill
