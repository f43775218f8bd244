#pragma once
// The application's state as a single value: everything that the window shows. Session (session.h) holds it,
// apply() (action.h) makes the next state, and panels read it. It knows no window and no OpenGL.

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

// A plan at a moment. Equal revisions mean equal plans; Undo brings an old revision back.
struct Version {
  std::shared_ptr<const plan::LoadedPlan> plan;  // never null while a plan is open
  std::uint64_t revision = 0;
};

// A step that can be undone or done again.
struct Step {
  std::string name;  // "move bud on drift"
  Version version;   // the plan before the step; of an undone step, the plan after it
  int stroke = 0;    // edits of the same stroke make a single step; 0: a step of its own
};

struct History {
  std::vector<Step> done;    // the latest last
  std::vector<Step> undone;  // the next to do again last
};

enum class MainView { wallDrawing, walkAround, throughLens };

// Which view is shown, and how. Not part of the plan; never undone.
struct ViewChoices {
  MainView main = MainView::wallDrawing;
  bool marks = true;
  bool heat = false;  // colours that tell in how many shots a place is seen bare
  bool people = true;
  bool thirds = false;
  bool blur = true;   // through the lens, as the aperture gives it
  bool shows = true;  // classes of gaps that are listed and marked
  bool faint = true;
  bool lost = false;
  bool tape = true;
  bool dark = false;
  double scale = 0;  // of letters and widgets; 0: the monitor's scale
  friend bool operator==(const ViewChoices&, const ViewChoices&) = default;
};

// The check of a shot.
struct ShotResult {
  std::uint64_t revision = 0;  // of the checked plan; 0: not checked
  bool full = false;           // checked at the picture's own size and read; false: at preview size, not read
  std::shared_ptr<const check::ShotCheck> check;
  std::shared_ptr<const gaps::BareMap> bare;  // where the shot sees bare board; of a full check
  std::string problem;                        // why there is no check, such as an impossible camera
};

// The scene and the checks of the plan. While the person edits, a shot's result may be of an older revision:
// isCurrent() tells.
struct Live {
  std::shared_ptr<const scene::Scene> scene;  // of the plan as it is now
  std::vector<ShotResult> shots;              // in the order of shotsOf(plan)
  std::shared_ptr<const gaps::BareMap> bare;  // of all shots together; null until all are fully checked
  double progress = 1;                        // of the full check; 1: done or not asked for
};

// Progress of long work.
struct Progress {
  double share = 0;
  std::string what;
};

// Advice for a shot of the plan at a revision.
struct ShotAdviceNews {
  std::uint64_t revision = 0;
  int shot = 0;
  advice::Advice advice;
};

// A filler that the last search placed, and the reason.
struct FillerNote {
  std::string bloom;
  plan::TapePoint at;
  int rank = 0;
  std::vector<std::string> hides;  // ids of gaps
  std::string over;                // "B2|C2"
};

// The result of the last search for fillers.
struct FillNews {
  std::vector<FillerNote> placed;
  std::vector<fill::LeftGap> left;
  std::vector<fill::FillerTotal> totals;  // what to cut, by kind and colour
  std::vector<std::string> notes;
  int at_least = 0;
  bool glow = true;  // the placed fillers are highlighted until the plan changes
};

// Unsaved work found in a journal.
struct FoundWork {
  std::filesystem::path journal;
  std::filesystem::path path;  // of the plan that the work is on; empty: the plan was never saved
  std::shared_ptr<const plan::LoadedPlan> plan;
  FileStamp stamp;     // of the journal
  std::string remark;  // for people: the journal was written for another plan, the plan is missing
};

struct State {
  Version now;                 // no plan: the start page
  std::filesystem::path path;  // of the plan's file; empty: not saved yet
  std::uint64_t saved_revision = 0;
  std::uint64_t last_revision = 0;    // the highest given so far
  std::uint64_t opened_revision = 0;  // of the plan as it was read or made
  History history;

  Selection selection;
  int shot = 0;  // the chosen shot, an index into shotsOf(plan)
  std::optional<GapRef> gap;
  std::uint64_t gap_choices = 0;  // grows with each choice of a gap, to which the walking view then flies
  ViewChoices view;
  Live live;

  std::optional<Progress> filling;
  std::optional<FillNews> filled;
  std::optional<Progress> advising;
  std::optional<Progress> drawing;  // marked pictures
  std::optional<ShotAdviceNews> advice;
  std::vector<Problem> problems;  // of a plan that can't be read, or of a failed request
  std::filesystem::path unread;   // the plan that can't be read
  std::string notice;             // a line of text: why an edit was refused, where pictures were written
  std::optional<FoundWork> found;
  std::string at_risk;  // why unsaved work couldn't be written to a journal; empty: it was
  std::vector<std::filesystem::path> recent;  // plans, the latest first
  bool changed_on_disk = false;               // by another program, since it was read or saved

  bool hasPlan() const { return now.plan != nullptr; }
  const plan::Plan& plan() const { return now.plan->plan; }
  bool changed() const { return hasPlan() && now.revision != saved_revision; }
};

// True where the shot's check belongs to the plan as it is now.
bool isCurrent(const State& state, int shot);
// True for blooms that move with the chosen blooms: these, and their copies in other cells with the same
// layout.
bool movesWithChosen(const State& state, const BloomRef& ref);
// The gap and its reading; nullptr where there is none.
const gaps::Gap* gapOf(const State& state, const GapRef& ref);
const reading::Reading* readingOf(const State& state, const GapRef& ref);
// The gap in another check of its shot: with the same owner, the nearest, if it may be the same one. Nothing
// where there is none.
std::optional<GapRef> sameGapIn(const check::ShotCheck& after, const GapRef& ref,
                                const check::ShotCheck& before);
// True for a fully checked shot whose picture shows nothing of the wall.
bool seesNoWall(const ShotResult& result);
// True for a gap whose class is turned on; one that isn't read counts as showing.
bool isListed(const State& state, const GapRef& ref);
// Those of the chosen shot that are listed: worst reading first, then largest difference, then area.
std::vector<GapRef> listedGaps(const State& state, int shot);

}  // namespace petalproof::app
