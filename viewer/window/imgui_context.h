#pragma once
// Dear ImGui's set-up for the window: begins and renders its frames. The main loop (window.cc) owns it.

#include "viewer/window/fonts.h"
#include "viewer/window/theme.h"

struct GLFWwindow;

namespace petalproof::window {

// Dear ImGui's context for a window, throughout its life.
class ImGuiContextOwner {
 public:
  explicit ImGuiContextOwner(GLFWwindow* window);
  ~ImGuiContextOwner();
  ImGuiContextOwner(const ImGuiContextOwner&) = delete;
  ImGuiContextOwner& operator=(const ImGuiContextOwner&) = delete;

  // Begins a frame with a theme; loads the letters anew where the scale changed.
  Fonts begin(const Theme& theme, float scale);
  void render() const;
  // True where the mouse or a key was used in this frame; valid between begin() and render().
  bool hadInput() const;

 private:
  void pressWidgetByEnter();

  Fonts fonts_;
  float scale_ = 0;
  bool dark_ = false;
  bool enter_was_typed_ = false;
};

}  // namespace petalproof::window
