#include "viewer/window/imgui_context.h"

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>
#include <iterator>

namespace petalproof::window {

ImGuiContextOwner::ImGuiContextOwner(GLFWwindow* window) {
  IMGUI_CHECKVERSION();
  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;  // no file of Dear ImGui's own is written
  io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
  ImGui_ImplGlfw_InitForOpenGL(window, true);
  ImGui_ImplOpenGL3_Init("#version 330 core");
}

ImGuiContextOwner::~ImGuiContextOwner() {
  ImGui_ImplOpenGL3_Shutdown();
  ImGui_ImplGlfw_Shutdown();
  ImGui::DestroyContext();
}

Fonts ImGuiContextOwner::begin(const Theme& theme, float scale) {
  const bool scale_changed = scale != scale_;
  if (scale_changed) {
    fonts_ = loadFonts(scale);
    ImGui_ImplOpenGL3_DestroyFontsTexture();
  }
  if (scale_changed || theme.dark != dark_) applyTheme(theme, scale);
  scale_ = scale;
  dark_ = theme.dark;
  ImGui_ImplOpenGL3_NewFrame();
  if (scale_changed && ImGui::GetIO().Fonts->TexID == nullptr) ImGui_ImplOpenGL3_CreateFontsTexture();
  ImGui_ImplGlfw_NewFrame();
  pressWidgetByEnter();
  ImGui::NewFrame();
  return fonts_;
}

// Enter presses the widget that the arrow keys chose, as Space does, unless it ends the typing in a field.
void ImGuiContextOwner::pressWidgetByEnter() {
  ImGuiIO& io = ImGui::GetIO();
  const bool down = io.KeysDown[GLFW_KEY_ENTER] || io.KeysDown[GLFW_KEY_KP_ENTER];
  enter_was_typed_ = down && (enter_was_typed_ || io.WantTextInput);
  if (down && !enter_was_typed_) io.NavInputs[ImGuiNavInput_Activate] = 1;
}

bool ImGuiContextOwner::hadInput() const {
  const ImGuiIO& io = ImGui::GetIO();
  const auto happened = [](const bool event) { return event; };
  return io.MouseDelta.x != 0 || io.MouseDelta.y != 0 || io.MouseWheel != 0 || io.MouseWheelH != 0 ||
         io.InputQueueCharacters.Size > 0 ||
         std::any_of(std::begin(io.MouseClicked), std::end(io.MouseClicked), happened) ||
         std::any_of(std::begin(io.MouseReleased), std::end(io.MouseReleased), happened) ||
         std::any_of(std::begin(io.KeysDownDuration), std::end(io.KeysDownDuration),
                     [](float held_s) { return held_s >= 0; });
}

void ImGuiContextOwner::render() const {
  ImGui::Render();
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
}

}  // namespace petalproof::window
