#include "viewer/app/action.h"

#include "viewer/app/filler_notes.h"
#include "viewer/app/next_choice.h"

#include <algorithm>
#include <utility>

namespace petalproof::app {
namespace {

int shotCount(const State& state) {
  return state.hasPlan() ? static_cast<int>(shotsOf(state.plan()).size()) : 0;
}

// After the plan changed: drops selected blooms, the shot and the gap that no longer exist.
void settle(State& state) {
  state.selection = stillThere(state.plan(), state.selection);
  state.shot = std::clamp(state.shot, 0, std::max(0, shotCount(state) - 1));
  if (state.gap && state.gap->shot >= shotCount(state)) state.gap.reset();
}

void goTo(State& state, std::shared_ptr<const plan::LoadedPlan> plan) {
  state.now = {std::move(plan), ++state.last_revision};
}

// True where the last step was made by the same stroke: the edit then starts from where that step started.
bool continuesStroke(const State& state, const Edit& edit) {
  return edit.stroke != 0 && !state.history.done.empty() && state.history.done.back().stroke == edit.stroke;
}

// Makes the edited plan the plan as it is now, and a step that can be undone.
void take(State& state, const Edit& edit, EditedPlan result) {
  const bool continues = continuesStroke(state, edit);
  const Version before = continues ? state.history.done.back().version : state.now;
  if (result.selection) state.selection = *result.selection;
  if (result.plan.plan == before.plan->plan && !std::holds_alternative<ReplacePlan>(edit.edit)) {
    // Back where the stroke began: nothing to undo.
    if (continues) state.history.done.pop_back();
    state.now = before;
    return settle(state);
  }
  if (!continues) state.history.done.push_back({{}, before, edit.stroke});
  state.history.done.back().name = std::move(result.name);
  state.history.undone.clear();
  goTo(state, std::make_shared<const plan::LoadedPlan>(std::move(result.plan)));
  settle(state);
}

void act(State& state, const ChooseShot& choose) {
  if (choose.shot < 0 || choose.shot >= shotCount(state)) return;
  if (choose.shot != state.shot) state.gap.reset();
  state.shot = choose.shot;
}

// A shot that was just added or copied becomes the chosen shot.
void chooseNewShot(State& state, const PlanEdit& edit) {
  if (std::holds_alternative<AddShot>(edit)) act(state, ChooseShot{shotCount(state) - 1});
  if (const auto* copy = std::get_if<CopyShot>(&edit)) act(state, ChooseShot{copy->shot + 1});
}

// The fillers placed last glow until the plan changes; once none of them hangs there, their notes go.
void fadeFillers(State& state) {
  if (!state.filled) return;
  state.filled->glow = false;
  const auto& fillers = state.plan().fillers;
  const auto hasNote = [&](const plan::Filler& filler) { return noteOf(state, filler) != nullptr; };
  if (std::none_of(fillers.begin(), fillers.end(), hasNote)) state.filled.reset();
}

void act(State& state, const Edit& edit) {
  if (!state.hasPlan()) return;
  const plan::LoadedPlan& before =
      continuesStroke(state, edit) ? *state.history.done.back().version.plan : *state.now.plan;
  auto result = edited(before, edit.edit);
  if (!result) {
    state.notice = result.problems.front().message;
    return;
  }
  state.notice.clear();
  take(state, edit, std::move(*result.value));
  fadeFillers(state);
  chooseNewShot(state, edit.edit);
}

// Undoes or does again: moves the last step of `from` to `to` and takes over its version of the plan.
void step(State& state, std::vector<Step>& from, std::vector<Step>& to) {
  if (from.empty()) return;
  Step step = std::move(from.back());
  from.pop_back();
  std::swap(step.version, state.now);
  step.stroke = 0;
  to.push_back(std::move(step));
  settle(state);
  fadeFillers(state);
}

void act(State& state, const Undo&) { step(state, state.history.done, state.history.undone); }
void act(State& state, const Redo&) { step(state, state.history.undone, state.history.done); }

void act(State& state, const Select& select) {
  if (state.hasPlan()) state.selection = stillThere(state.plan(), select.selection);
}

void act(State& state, const ChooseGap& choose) {
  state.gap.reset();
  if (!choose.gap || !gapOf(state, *choose.gap)) return;
  state.gap = choose.gap;
  ++state.gap_choices;
  state.shot = choose.gap->shot;
}

// After the last listed gap comes the first; where no gap is chosen, the first or the last is.
void act(State& state, const StepThroughGaps& go) {
  const std::vector<GapRef> listed = listedGaps(state, state.shot);
  if (listed.empty()) return;
  const auto count = static_cast<std::ptrdiff_t>(listed.size());
  const auto at = state.gap ? std::find(listed.begin(), listed.end(), *state.gap) : listed.end();
  std::ptrdiff_t next = go.by > 0 ? 0 : count - 1;
  if (at != listed.end()) next = ((at - listed.begin() + go.by) % count + count) % count;
  state.gap = listed[static_cast<std::size_t>(next)];
  ++state.gap_choices;
}

void act(State& state, const StepToBloom& go) {
  if (const auto bloom = nextBloom(state, go.right, go.down)) state.selection = {{*bloom}, {}};
}
void act(State& state, const StepToPanel& go) {
  if (const auto cell = nextPanel(state, go.right, go.down)) state.selection = {{}, {*cell}};
}

void act(State& state, const SetView& set) { state.view = set.view; }

void act(State& state, const Dismiss&) {
  state.problems.clear();
  state.unread.clear();
  state.notice.clear();
  state.filled.reset();
}

// Requests: the session carries them out.
template <class Request>
void act(State&, const Request&) {}

}  // namespace

State apply(State state, const Action& action) {
  std::visit([&](const auto& chosen) { act(state, chosen); }, action);
  return state;
}

State opened(State state, std::shared_ptr<const plan::LoadedPlan> plan, std::filesystem::path path) {
  State fresh;
  fresh.view = state.view;
  fresh.last_revision = state.last_revision;
  // A plan begins with the wall drawing; a plan that is read again keeps its view.
  if (!state.hasPlan() || path != state.path) fresh.view.main = MainView::wallDrawing;
  fresh.path = std::move(path);
  goTo(fresh, std::move(plan));
  fresh.opened_revision = fresh.now.revision;
  // A plan that was made, not read, isn't saved anywhere: it counts as changed from the start.
  if (!fresh.path.empty()) fresh.saved_revision = fresh.now.revision;
  return fresh;
}

}  // namespace petalproof::app
