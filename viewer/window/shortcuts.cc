#include "viewer/window/shortcuts.h"

#include "viewer/app/field_text.h"

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <optional>
#include <utility>

namespace petalproof::window {
namespace {

// The letter on a key, which depends on the keyboard's layout; 0 for other keys.
char letterOf(int key) {
  if (key < GLFW_KEY_A || key > GLFW_KEY_Z) return 0;
  const char* const name = glfwGetKeyName(key, 0);
  return name != nullptr ? name[0] : static_cast<char>(key - GLFW_KEY_A + 'a');
}

std::optional<app::Action> withControl(const app::State& state, char letter, bool shift) {
  switch (letter) {
    case 'z': return shift ? app::Action(app::Redo{}) : app::Action(app::Undo{});
    case 'y': return app::Redo{};
    case 's': return app::Save{};
    case 'd':
      if (state.selection.blooms.empty()) return std::nullopt;
      return app::Edit{app::CopyBlooms{state.selection.blooms, {{1}, {1}}}, 0};
    default: return std::nullopt;
  }
}

// The direction of an arrow key: either number is 0.
struct Direction {
  int right = 0;
  int down = 0;
};

std::optional<Direction> directionOf(int key) {
  switch (key) {
    case GLFW_KEY_LEFT: return Direction{-1, 0};
    case GLFW_KEY_RIGHT: return Direction{1, 0};
    case GLFW_KEY_UP: return Direction{0, -1};
    case GLFW_KEY_DOWN: return Direction{0, 1};
    default: return std::nullopt;
  }
}

// The step by which an arrow key moves a bloom, in the plan's unit.
double stepOf(Units units, bool fine) {
  if (fine) return app::finestStep(units);
  switch (units) {
    case Units::inch: return 0.25;
    case Units::centimetre: return 0.5;
    case Units::millimetre: return 5;
  }
  return 1;
}

// Alt and an arrow key: chooses the next panel or, with Shift, swaps the chosen panel with it.
std::optional<app::Action> panelArrow(const app::State& state, const Direction& direction, bool swaps) {
  const auto& cells = state.selection.cells;
  if (!swaps || cells.size() != 1) return app::StepToPanel{direction.right, direction.down};
  const plan::Plan& plan = state.plan();
  const app::CellRef to{cells[0].column + direction.right, cells[0].row + direction.down};
  if (to.column < 0 || to.row < 0 || to.column >= plan.wall.columns || to.row >= plan.wall.rows)
    return std::nullopt;
  return app::Edit{app::SwapCells{cells[0], to}, 0};
}

// Arrow keys on the wall drawing; in the walking view they walk.
std::optional<app::Action> arrow(const app::State& state, const Direction& direction, int mods) {
  if (ImGui::GetIO().NavActive) return std::nullopt;  // arrow keys walk through widgets
  if (state.view.main != app::MainView::wallDrawing) return std::nullopt;
  const bool shift = (mods & GLFW_MOD_SHIFT) != 0;
  if ((mods & GLFW_MOD_ALT) != 0) return panelArrow(state, direction, shift);
  const auto& blooms = state.selection.blooms;
  if ((mods & GLFW_MOD_CONTROL) != 0 || blooms.empty())
    return app::StepToBloom{direction.right, direction.down};
  const double step = stepOf(state.plan().units, shift);
  return app::Edit{app::MoveBlooms{blooms, {{step * direction.right}, {step * direction.down}}}, 0};
}

app::Action viewNumber(const app::State& state, int number) {
  app::ViewChoices view = state.view;
  view.main = static_cast<app::MainView>(number);
  return app::SetView{view};
}

app::Action turned(const app::State& state, bool app::ViewChoices::*choice) {
  app::ViewChoices view = state.view;
  view.*choice = !(view.*choice);
  return app::SetView{view};
}

std::optional<app::Action> withLetter(const app::State& state, char letter, bool shift) {
  constexpr double turn_deg = 5;  // as a notch of the mouse's wheel
  switch (letter) {
    case 'n': return app::StepThroughGaps{shift ? -1 : 1};
    case 'm': return turned(state, &app::ViewChoices::marks);
    case 'h': return turned(state, &app::ViewChoices::heat);
    case 'p': return turned(state, &app::ViewChoices::people);
    case 't': return turned(state, &app::ViewChoices::thirds);
    case 'b': return turned(state, &app::ViewChoices::blur);
    case 'r':
      if (state.selection.blooms.empty()) return std::nullopt;
      return app::Edit{app::TurnBlooms{state.selection.blooms, shift ? -turn_deg : turn_deg}, 0};
    case 'u':
      if (state.selection.cells.size() != 1) return std::nullopt;
      return app::Edit{app::TurnOver{state.selection.cells[0]}, 0};
    default: return std::nullopt;
  }
}

std::optional<app::Action> meaningOf(const app::State& state, const KeyPress& press) {
  const bool shift = (press.mods & GLFW_MOD_SHIFT) != 0;
  const char letter = letterOf(press.key);
  if (const auto direction = directionOf(press.key)) return arrow(state, *direction, press.mods);
  if ((press.mods & GLFW_MOD_CONTROL) != 0) return withControl(state, letter, shift);
  if ((press.mods & GLFW_MOD_ALT) != 0) return std::nullopt;
  if (letter != 0) return withLetter(state, letter, shift);
  if (press.key >= GLFW_KEY_1 && press.key <= GLFW_KEY_9) return app::ChooseShot{press.key - GLFW_KEY_1};
  switch (press.key) {
    case GLFW_KEY_DELETE:
    case GLFW_KEY_BACKSPACE:
      if (state.selection.blooms.empty()) return std::nullopt;
      return app::Edit{app::DeleteBlooms{state.selection.blooms}, 0};
    case GLFW_KEY_ESCAPE: return app::Select{};
    case GLFW_KEY_F2:
    case GLFW_KEY_F3:
    case GLFW_KEY_F4: return viewNumber(state, press.key - GLFW_KEY_F2);
    default: return std::nullopt;
  }
}

}  // namespace

app::Actions shortcutActions(const app::State& state, const std::vector<KeyPress>& keys) {
  app::Actions actions;
  if (ImGui::GetIO().WantTextInput || !state.hasPlan()) return actions;
  if (ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel)) return actions;
  for (const KeyPress& press : keys)
    if (auto action = meaningOf(state, press)) actions.push_back(std::move(*action));
  return actions;
}

}  // namespace petalproof::window
