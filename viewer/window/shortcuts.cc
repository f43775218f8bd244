#include "viewer/window/shortcuts.h"

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <string_view>

namespace petalproof::window {
namespace {

// The letter a key bears may be elsewhere than on an American keyboard.
bool pressedLetter(char letter) {
  for (int key = GLFW_KEY_A; key <= GLFW_KEY_Z; ++key) {
    if (!ImGui::IsKeyPressed(key)) continue;
    const char* const name = glfwGetKeyName(key, 0);
    const char born = name != nullptr ? name[0] : static_cast<char>(key - GLFW_KEY_A + 'a');
    if (born == letter) return true;
  }
  return false;
}

void arrowMoves(const app::State& state, app::Actions& actions) {
  if (ImGui::GetIO().NavVisible) return;  // then they walk through the widgets
  if (state.selection.blooms.empty() || state.view.main != app::MainView::wallDrawing) return;
  const double step = state.plan().units == Units::inch         ? 0.25
                      : state.plan().units == Units::centimetre ? 0.5
                                                                : 5;
  const auto moved = [&](int key, double right, double down) {
    if (ImGui::IsKeyPressed(key))
      actions.emplace_back(
          app::Edit{app::MoveBlooms{state.selection.blooms, {{right * step}, {down * step}}}, 0});
  };
  moved(GLFW_KEY_LEFT, -1, 0);
  moved(GLFW_KEY_RIGHT, 1, 0);
  moved(GLFW_KEY_UP, 0, -1);
  moved(GLFW_KEY_DOWN, 0, 1);
}

void viewKeys(const app::State& state, app::Actions& actions) {
  static constexpr int keys[] = {GLFW_KEY_F1 + 1, GLFW_KEY_F1 + 2, GLFW_KEY_F1 + 3};
  for (int k = 0; k < 3; ++k) {
    if (!ImGui::IsKeyPressed(keys[k])) continue;
    app::ViewChoices view = state.view;
    view.main = static_cast<app::MainView>(k);
    actions.emplace_back(app::SetView{view});
  }
}

}  // namespace

app::Actions shortcutActions(const app::State& state) {
  app::Actions actions;
  const ImGuiIO& io = ImGui::GetIO();
  if (io.WantTextInput || !state.hasPlan()) return actions;
  if (io.KeyCtrl && pressedLetter('z'))
    actions.push_back(io.KeyShift ? app::Action(app::Redo{}) : app::Action(app::Undo{}));
  if (io.KeyCtrl && pressedLetter('y')) actions.emplace_back(app::Redo{});
  if (io.KeyCtrl && pressedLetter('s')) actions.emplace_back(app::Save{});
  if (io.KeyCtrl && pressedLetter('d') && !state.selection.blooms.empty())
    actions.emplace_back(app::Edit{app::CopyBlooms{state.selection.blooms, {{1}, {1}}}, 0});
  if (!state.selection.blooms.empty() &&
      (ImGui::IsKeyPressed(GLFW_KEY_DELETE) || ImGui::IsKeyPressed(GLFW_KEY_BACKSPACE)))
    actions.emplace_back(app::Edit{app::DeleteBlooms{state.selection.blooms}, 0});
  if (ImGui::IsKeyPressed(GLFW_KEY_ESCAPE)) actions.emplace_back(app::Select{});
  if (!io.KeyCtrl && pressedLetter('n')) actions.emplace_back(app::StepThroughGaps{io.KeyShift ? -1 : 1});
  arrowMoves(state, actions);
  viewKeys(state, actions);
  return actions;
}

}  // namespace petalproof::window
