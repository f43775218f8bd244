#pragma once
// The window of the program, with OpenGL 3.3 core, by GLFW. Collects keys, presses and dropped files between
// frames; the main loop (window.cc) takes them.

#include "engine/base/problem.h"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

struct GLFWwindow;

namespace petalproof::window {

// A key that went down or repeats. Kept until the next frame, so that a key released before it counts too.
struct KeyPress {
  int key = 0;   // GLFW_KEY_...
  int mods = 0;  // GLFW_MOD_... held with it
};

// The places where the left button last went down and up, in pixels of the window. By the time a slow frame
// is drawn the mouse may be elsewhere.
struct PressPlaces {
  double down_x = 0;
  double down_y = 0;
  double up_x = 0;
  double up_y = 0;
};

class GlfwWindow {
 public:
  // In pixels at 96 dots an inch: a smaller window lacks the room for all parts of the screen.
  static constexpr int least_width = 1024;
  static constexpr int least_height = 700;

  // Problems: no display, no OpenGL 3.3; in words for a person.
  static Result<GlfwWindow> open(const std::string& title, bool visible = true);
  ~GlfwWindow();
  GlfwWindow(GlfwWindow&&) noexcept;
  GlfwWindow& operator=(GlfwWindow&&) noexcept;

  GLFWwindow* handle() const;
  // The factor by which the monitor wants sizes for 96 dots an inch enlarged.
  float contentScale() const;
  // Files dropped onto the window since the last call.
  std::vector<std::filesystem::path> takeDropped();
  // Keys pressed since the last call, in order.
  std::vector<KeyPress> takeKeys();
  const PressPlaces& pressPlaces() const;
  // Wakes the main loop from its wait for events; safe in any thread.
  static void wake();

  struct State;

 private:
  explicit GlfwWindow(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace petalproof::window
