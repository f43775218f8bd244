#pragma once
// A window with OpenGL 3.3 core, by GLFW.

#include "engine/base/problem.h"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

struct GLFWwindow;

namespace petalproof::window {

// A key that went down, or repeats itself. Kept until a picture is drawn: one that is up again by then counts
// too.
struct KeyPress {
  int key = 0;   // GLFW_KEY_...
  int mods = 0;  // GLFW_MOD_... that were held
};

// Where the left button went down and up last, in pixels of the window: by the time a slow picture is drawn
// the mouse is elsewhere.
struct PressPlaces {
  double down_x = 0;
  double down_y = 0;
  double up_x = 0;
  double up_y = 0;
};

class GlfwWindow {
 public:
  // Pixels at 96 dots an inch: in a smaller window not everything has room.
  static constexpr int least_width = 1024;
  static constexpr int least_height = 700;

  // Problems: no display, no OpenGL 3.3; in a maker's words.
  static Result<GlfwWindow> open(const std::string& title, bool visible = true);
  ~GlfwWindow();
  GlfwWindow(GlfwWindow&&) noexcept;
  GlfwWindow& operator=(GlfwWindow&&) noexcept;

  GLFWwindow* handle() const;
  // How many times as large as at 96 dots an inch things should be, by the monitor.
  float contentScale() const;
  // Files dropped onto the window since the last call.
  std::vector<std::filesystem::path> takeDropped();
  // Keys pressed since the last call, in order.
  std::vector<KeyPress> takeKeys();
  const PressPlaces& pressPlaces() const;
  // Ends waiting for events; from any thread.
  static void wake();

  struct State;

 private:
  explicit GlfwWindow(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace petalproof::window
