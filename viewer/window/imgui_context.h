#pragma once
#include "viewer/window/fonts.h"
#include "viewer/window/theme.h"

struct GLFWwindow;

namespace petalproof::window {

// Dear ImGui for one window, from making to end.
class ImGuiContextOwner {
 public:
  explicit ImGuiContextOwner(GLFWwindow* window);
  ~ImGuiContextOwner();
  ImGuiContextOwner(const ImGuiContextOwner&) = delete;
  ImGuiContextOwner& operator=(const ImGuiContextOwner&) = delete;

  // Begins a frame with these looks; letters are loaded anew where the scale is another.
  Fonts begin(const Theme& theme, float scale);
  void render() const;
  // Whether the mouse or a key did something in this frame; between begin() and render().
  bool hadInput() const;

 private:
  void pressByEnter();

  Fonts fonts_;
  float scale_ = 0;
  bool dark_ = false;
  bool enter_was_typed_ = false;
};

}  // namespace petalproof::window
