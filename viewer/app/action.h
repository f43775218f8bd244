#pragma once
// Everything that a person can do in the window. Panels return actions; Session (session.h) calls apply(),
// which makes the next state. Actions that need files or threads are requests: apply() leaves the state as it
// is, and the session carries them out.

#include "viewer/app/plan_edit.h"
#include "viewer/app/state.h"

#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace petalproof::app {

// A change of the plan. Edits of the same stroke (from mouse down to mouse up, or while a slider is held)
// make a single step: each is applied to the plan as it was when the stroke began, so a move tells the whole
// way.
struct Edit {
  PlanEdit edit;
  int stroke = 0;  // 0: a step of its own
};

struct Undo {};
struct Redo {};

struct Select {
  Selection selection;
};
struct ChooseShot {
  int shot = 0;
};
struct ChooseGap {
  std::optional<GapRef> gap;
};
struct StepThroughGaps {
  int by = 1;  // 1: the next listed gap, -1: the gap before
};
// Chooses the nearest bloom in a direction: (1, 0) right, (-1, 0) left, (0, 1) down, (0, -1) up. Where no
// bloom is chosen, the bloom nearest the middle of the wall. Uses the scene as it was last built.
struct StepToBloom {
  int right = 0;
  int down = 0;
};
// Likewise for cells; stays on the wall. Where a bloom is chosen, chooses its panel.
struct StepToPanel {
  int right = 0;
  int down = 0;
};
struct SetView {
  ViewChoices view;
};
struct Dismiss {};  // clears problems, the notice and the news of placed fillers

// Requests.
struct OpenPlan {
  std::filesystem::path path;
};
struct OpenDemo {};
struct StartWith {  // opens a plan that was made, not read from a file
  std::shared_ptr<const plan::LoadedPlan> plan;
};
struct TakeUpFoundWork {
  bool take = true;  // false: throws the found work away
};
struct Save {};
struct SaveAs {
  std::filesystem::path path;
  bool replace = false;
};
struct ReadAgain {};   // reads the plan's file again after another program changed it
struct LookAtDisk {};  // asks whether another program changed it: when the window gets the focus
struct ClosePlan {};
struct PlaceFillers {
  fill::Hide hide = fill::Hide::shows;
  bool start_over = false;
};
struct StopPlacing {};
struct FindAdvice {};  // for the chosen shot
struct StopAdvising {};
struct WritePictures {};  // pictures with the gaps marked, into a new folder beside the plan
struct StopPictures {};

using Action = std::variant<Edit, Undo, Redo, Select, ChooseShot, ChooseGap, StepThroughGaps, StepToBloom,
                            StepToPanel, SetView, Dismiss, OpenPlan, OpenDemo, StartWith, TakeUpFoundWork,
                            Save, SaveAs, ReadAgain, LookAtDisk, ClosePlan, PlaceFillers, StopPlacing,
                            FindAdvice, StopAdvising, WritePictures, StopPictures>;
using Actions = std::vector<Action>;

// The next state; the same state for a request. A refused edit leaves the plan as it is and gives its reason
// in State::notice.
State apply(State state, const Action& action);

// The state with a plan just opened. `path`: where it was read from; empty: it was made and isn't saved yet.
State opened(State state, std::shared_ptr<const plan::LoadedPlan> plan, std::filesystem::path path);

}  // namespace petalproof::app
