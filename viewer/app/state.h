#pragma once
// Everything the window shows, as one value. Nothing here knows of a window or of OpenGL.

#include "engine/advice/advice.h"
#include "engine/base/problem.h"
#include "engine/check/check.h"
#include "engine/fill/fill.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"
#include "viewer/app/plan_file.h"
#include "viewer/app/references.h"

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

// A plan as it was at one moment. Equal revisions mean equal plans; going back brings the old one back.
struct Version {
  std::shared_ptr<const plan::LoadedPlan> plan;  // never null while a plan is open
  std::uint64_t revision = 0;
};

// One step that can be undone or done again.
struct Step {
  std::string name;  // "move bud on drift"
  Version version;   // the plan on the other side of it: before it, or after it where it is undone
  int stroke = 0;    // edits of one stroke of the hand are one step; 0: a step of its own
};

struct History {
  std::vector<Step> done;    // the latest last
  std::vector<Step> undone;  // the next one to do again last
};

enum class MainView { wallDrawing, walkAround, throughLens };

// What is shown, and how. Not part of the plan; never undone.
struct ViewChoices {
  MainView main = MainView::wallDrawing;
  bool marks = true;
  bool heat = false;  // in how many shots each place is seen bare
  bool people = true;
  bool thirds = false;
  bool blur = true;   // through the lens, as the aperture gives it
  bool shows = true;  // classes of gaps that are listed and marked
  bool faint = true;
  bool lost = false;
  bool tape = true;
  bool dark = false;
  double scale = 0;  // of letters and widgets; 0: as the monitor says
  friend bool operator==(const ViewChoices&, const ViewChoices&) = default;
};

// What is known of one shot.
struct ShotResult {
  std::uint64_t revision = 0;  // of the plan it belongs to; 0: nothing is known
  bool full = false;           // checked at its own size and read; else at preview size, not read
  std::shared_ptr<const check::ShotCheck> check;
  std::shared_ptr<const gaps::BareMap> bare;  // what it sees bare; of a full check
  std::string problem;                        // why there is no check: a camera that can't be
};

// While the hand moves, what is known of a shot may be of a moment ago: isCurrent() tells.
struct Live {
  std::shared_ptr<const scene::Scene> scene;  // of the plan as it is
  std::vector<ShotResult> shots;              // as shotsOf(plan)
  std::shared_ptr<const gaps::BareMap> bare;  // of all shots together; null until all are fully checked
  double progress = 1;                        // of the full check; 1: done or not asked for
};

// Of long work under way.
struct Progress {
  double share = 0;
  std::string what;
};

// What would help a shot of the plan as it was then.
struct ShotAdviceNews {
  std::uint64_t revision = 0;
  int shot = 0;
  advice::Advice advice;
};

// One filler that was placed last, and why.
struct FillerNote {
  std::string bloom;
  plan::TapePoint at;
  int rank = 0;
  std::vector<std::string> hides;  // ids of gaps
  std::string over;                // "B2|C2"
};

struct FillNews {
  std::vector<FillerNote> placed;
  std::vector<fill::LeftGap> left;
  std::vector<fill::FillerTotal> totals;  // what to cut, by kind and colour
  std::vector<std::string> notes;
  int at_least = 0;
  bool cancelled = false;
  bool glow = true;  // those placed stand out, until the plan is changed
};

// Work that wasn't saved, found in a journal.
struct FoundWork {
  std::filesystem::path journal;
  std::filesystem::path path;  // of the plan it was looked for; empty: it was nowhere saved
  std::shared_ptr<const plan::LoadedPlan> plan;
  FileStamp stamp;     // of the journal
  std::string remark;  // for people: that the journal was written for another plan, that the plan isn't there
};

struct State {
  Version now;                 // no plan: the start page
  std::filesystem::path path;  // where it is saved; empty: nowhere yet
  std::uint64_t saved_revision = 0;
  std::uint64_t last_revision = 0;    // given so far
  std::uint64_t opened_revision = 0;  // of the plan as it was read or made
  History history;

  Selection selection;
  int shot = 0;  // chosen, in shotsOf(plan)
  std::optional<GapRef> gap;
  std::uint64_t gap_choices = 0;  // how often one was chosen: the eye flies to it each time
  ViewChoices view;
  Live live;

  std::optional<Progress> filling;
  std::optional<FillNews> filled;
  std::optional<Progress> advising;
  std::optional<Progress> drawing;  // marked pictures
  std::optional<ShotAdviceNews> advice;
  std::vector<Problem> problems;  // of a plan that can't be read, or of what was asked for
  std::filesystem::path unread;   // the plan they are of
  std::string notice;             // one line: why an edit was refused, where a picture was written
  std::optional<FoundWork> found;
  std::string at_risk;  // why work that isn't saved isn't in a journal either; empty: it is
  std::vector<std::filesystem::path> recent;  // plans, the latest first
  bool changed_on_disk = false;               // by another program, since it was read or saved

  bool hasPlan() const { return now.plan != nullptr; }
  const plan::Plan& plan() const { return now.plan->plan; }
  bool changed() const { return hasPlan() && now.revision != saved_revision; }
};

// True where what is known of the shot belongs to the plan as it is.
bool isCurrent(const State& state, int shot);
// True for what moves when the chosen blooms are moved: they and, of a layout's, their copies in other cells.
bool movesWithChosen(const State& state, const BloomRef& ref);
// The gap and its reading; nullptr where there is none.
const gaps::Gap* gapOf(const State& state, const GapRef& ref);
const reading::Reading* readingOf(const State& state, const GapRef& ref);
// The gap in another check of its shot: with the same owner, the nearest, if it may be the same one. Nothing
// where there is none.
std::optional<GapRef> sameGapIn(const check::ShotCheck& after, const GapRef& ref,
                                const check::ShotCheck& before);
// The gap that a check calls "couple.6", where that shot is fully checked as it is now.
std::optional<GapRef> gapOfId(const State& state, const std::string& id);
// How many of such ids belong to each shot: "4 in couple, 2 in phone".
std::string countsByShot(const std::vector<std::string>& ids);
// Why the last search put the filler there; nullptr where it didn't, or the hand moved it since.
const FillerNote* noteOf(const State& state, const plan::Filler& filler);
// True for a filler (an index into Plan::fillers) that was just placed.
bool glows(const State& state, int filler);
// How many fillers of each kind and colour hang on the wall, in the order of their kinds; `spare` as the last
// search had it.
std::vector<fill::FillerTotal> fillersToCut(const State& state);
// True for a picture that is checked in full and shows nothing of the wall.
bool seesNoWall(const ShotResult& result);
// True for a gap whose class is turned on; one that isn't read counts as showing.
bool isListed(const State& state, const GapRef& ref);
// Those of the chosen shot that are listed: worst reading first, then largest difference, then area.
std::vector<GapRef> listedGaps(const State& state, int shot);

}  // namespace petalproof::app
