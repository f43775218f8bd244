#include "viewer/window/shortcuts.h"

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <optional>
#include <utility>

namespace petalproof::window {
namespace {

// The letter a key bears may be elsewhere than on an American keyboard; 0 for other keys.
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

std::optional<app::Action> arrow(const app::State& state, int key) {
  if (ImGui::GetIO().NavVisible) return std::nullopt;  // then they walk through the widgets
  if (state.selection.blooms.empty() || state.view.main != app::MainView::wallDrawing) return std::nullopt;
  const Units units = state.plan().units;
  const double step = units == Units::inch ? 0.25 : units == Units::centimetre ? 0.5 : 5;
  const double right = key == GLFW_KEY_RIGHT ? step : key == GLFW_KEY_LEFT ? -step : 0;
  const double down = key == GLFW_KEY_DOWN ? step : key == GLFW_KEY_UP ? -step : 0;
  return app::Edit{app::MoveBlooms{state.selection.blooms, {{right}, {down}}}, 0};
}

app::Action viewNumber(const app::State& state, int number) {
  app::ViewChoices view = state.view;
  view.main = static_cast<app::MainView>(number);
  return app::SetView{view};
}

std::optional<app::Action> meaningOf(const app::State& state, const KeyPress& press) {
  const bool shift = (press.mods & GLFW_MOD_SHIFT) != 0;
  const char letter = letterOf(press.key);
  if ((press.mods & GLFW_MOD_CONTROL) != 0) return withControl(state, letter, shift);
  if (letter == 'n') return app::StepThroughGaps{shift ? -1 : 1};
  switch (press.key) {
    case GLFW_KEY_DELETE:
    case GLFW_KEY_BACKSPACE:
      if (state.selection.blooms.empty()) return std::nullopt;
      return app::Edit{app::DeleteBlooms{state.selection.blooms}, 0};
    case GLFW_KEY_ESCAPE: return app::Select{};
    case GLFW_KEY_LEFT:
    case GLFW_KEY_RIGHT:
    case GLFW_KEY_UP:
    case GLFW_KEY_DOWN: return arrow(state, press.key);
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
