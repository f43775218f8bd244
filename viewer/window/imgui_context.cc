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
  io.IniFilename = nullptr;  // nobody's folder is written to
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
  const bool other_scale = scale != scale_;
  if (other_scale) {
    fonts_ = loadFonts(scale);
    ImGui_ImplOpenGL3_DestroyFontsTexture();
  }
  if (other_scale || theme.dark != dark_) applyTheme(theme, scale);
  scale_ = scale;
  dark_ = theme.dark;
  ImGui_ImplOpenGL3_NewFrame();
  if (other_scale && ImGui::GetIO().Fonts->TexID == nullptr) ImGui_ImplOpenGL3_CreateFontsTexture();
  ImGui_ImplGlfw_NewFrame();
  pressByEnter();
  ImGui::NewFrame();
  return fonts_;
}

// Enter presses what the arrow keys chose, as Space does; not the one that ends what was typed.
void ImGuiContextOwner::pressByEnter() {
  ImGuiIO& io = ImGui::GetIO();
  const bool down = io.KeysDown[GLFW_KEY_ENTER] || io.KeysDown[GLFW_KEY_KP_ENTER];
  enter_was_typed_ = down && (enter_was_typed_ || io.WantTextInput);
  if (down && !enter_was_typed_) io.NavInputs[ImGuiNavInput_Activate] = 1;
}

bool ImGuiContextOwner::hadInput() const {
  const ImGuiIO& io = ImGui::GetIO();
  const auto now = [](const bool did) { return did; };
  return io.MouseDelta.x != 0 || io.MouseDelta.y != 0 || io.MouseWheel != 0 || io.MouseWheelH != 0 ||
         io.InputQueueCharacters.Size > 0 ||
         std::any_of(std::begin(io.MouseClicked), std::end(io.MouseClicked), now) ||
         std::any_of(std::begin(io.MouseReleased), std::end(io.MouseReleased), now) ||
         std::any_of(std::begin(io.KeysDownDuration), std::end(io.KeysDownDuration),
                     [](float held_s) { return held_s >= 0; });
}

void ImGuiContextOwner::render() const {
  ImGui::Render();
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
}

}  // namespace petalproof::window
