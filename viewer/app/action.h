#pragma once
// What a person can do. Panels return actions; apply() makes the next state of them. What needs files or
// threads is a request, which the session carries out (session.h).

#include "viewer/app/plan_edit.h"
#include "viewer/app/state.h"

#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace petalproof::app {

// A change of the plan. Edits of one stroke (from mouse down to mouse up, one slider held) are one step:
// each is made to the plan as it was when the stroke began, so a move says how far in all.
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
  int by = 1;  // 1: the next listed one, -1: the one before
};
// The choice goes on to the bloom that is nearest that way on the wall as it was last built; from nothing to
// the one nearest the wall's middle. One of both is 0: right above 0, down above 0.
struct StepToBloom {
  int right = 0;
  int down = 0;
};
struct StepToPanel {  // likewise, to the next cell, never over the wall's edge; from a bloom to its panel
  int right = 0;
  int down = 0;
};
struct SetView {
  ViewChoices view;
};
struct Dismiss {};  // problems, notice and news that have been read

// Requests.
struct OpenPlan {
  std::filesystem::path path;
};
struct OpenDemo {};
struct StartWith {  // a plan that was made, not read: nowhere saved yet
  std::shared_ptr<const plan::LoadedPlan> plan;
};
struct TakeUpFoundWork {
  bool take = true;  // false: throw it away
};
struct Save {};
struct SaveAs {
  std::filesystem::path path;
  bool replace = false;
};
struct ReadAgain {};   // the plan that another program changed
struct LookAtDisk {};  // whether one did: when the window is come back to
struct ClosePlan {};
struct PlaceFillers {
  fill::Hide hide = fill::Hide::shows;
  bool start_over = false;
};
struct StopPlacing {};
struct FindAdvice {};  // on the chosen shot
struct StopAdvising {};
struct WritePictures {};  // with the gaps marked, into a new folder beside the plan
struct StopPictures {};

using Action = std::variant<Edit, Undo, Redo, Select, ChooseShot, ChooseGap, StepThroughGaps, StepToBloom,
                            StepToPanel, SetView, Dismiss, OpenPlan, OpenDemo, StartWith, TakeUpFoundWork,
                            Save, SaveAs, ReadAgain, LookAtDisk, ClosePlan, PlaceFillers, StopPlacing,
                            FindAdvice, StopAdvising, WritePictures, StopPictures>;
using Actions = std::vector<Action>;

// The next state; a request leaves it as it is. An edit that is refused leaves the plan and says why in
// State::notice.
State apply(State state, const Action& action);

// The state with a plan just opened: read from `path`, or made (empty path) and then nowhere saved.
State opened(State state, std::shared_ptr<const plan::LoadedPlan> plan, std::filesystem::path path);

}  // namespace petalproof::app
