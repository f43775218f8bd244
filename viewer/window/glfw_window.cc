#include "viewer/window/glfw_window.h"

#include <GLFW/glfw3.h>

#include <algorithm>
#include <utility>

namespace petalproof::window {
namespace {

// The size of a new window: all pages have room, and it fits on a small laptop's screen.
constexpr int first_width = 1360;
constexpr int first_height = 860;

Result<GlfwWindow> failed(const std::string& message) {
  const char* why = nullptr;
  glfwGetError(&why);
  return Result<GlfwWindow>::failure({Problem{{}, why != nullptr ? message + " (" + why + ")" : message}});
}

}  // namespace

struct GlfwWindow::State {
  GLFWwindow* window = nullptr;
  std::vector<std::filesystem::path> dropped;
  std::vector<KeyPress> keys;
  double mouse_x = 0;
  double mouse_y = 0;
  PressPlaces presses;

  State() = default;
  State(const State&) = delete;
  State& operator=(const State&) = delete;
  ~State() {
    if (window != nullptr) glfwDestroyWindow(window);
    glfwTerminate();
  }
};

GlfwWindow::GlfwWindow(std::unique_ptr<State> state) : state_(std::move(state)) {}
GlfwWindow::~GlfwWindow() = default;
GlfwWindow::GlfwWindow(GlfwWindow&&) noexcept = default;
GlfwWindow& GlfwWindow::operator=(GlfwWindow&&) noexcept = default;

namespace {

GlfwWindow::State& stateOf(GLFWwindow* window) {
  return *static_cast<GlfwWindow::State*>(glfwGetWindowUserPointer(window));
}

// Records events in their order. Dear ImGui later installs its own callbacks, which call these.
void listen(GLFWwindow* window) {
  glfwSetKeyCallback(window, [](GLFWwindow* in, int key, int, int action, int mods) {
    if (action != GLFW_RELEASE) stateOf(in).keys.push_back({key, mods});
  });
  glfwSetDropCallback(window, [](GLFWwindow* in, int count, const char** paths) {
    for (int k = 0; k < count; ++k) stateOf(in).dropped.emplace_back(paths[k]);
  });
  glfwSetCursorPosCallback(window, [](GLFWwindow* in, double x, double y) {
    stateOf(in).mouse_x = x;
    stateOf(in).mouse_y = y;
  });
  glfwSetMouseButtonCallback(window, [](GLFWwindow* in, int button, int action, int) {
    if (button != GLFW_MOUSE_BUTTON_LEFT) return;
    auto& state = stateOf(in);
    PressPlaces& places = state.presses;
    (action == GLFW_PRESS ? places.down_x : places.up_x) = state.mouse_x;
    (action == GLFW_PRESS ? places.down_y : places.up_y) = state.mouse_y;
  });
}

struct WindowSize {
  int width = first_width;
  int height = first_height;
};

// The usual size, or less where the monitor is smaller. At 96 dots an inch: GLFW enlarges the window by the
// monitor's scale.
WindowSize firstSize() {
  WindowSize size;
  GLFWmonitor* const monitor = glfwGetPrimaryMonitor();
  if (monitor == nullptr) return size;
  int x = 0;
  int y = 0;
  int width = 0;
  int height = 0;
  glfwGetMonitorWorkarea(monitor, &x, &y, &width, &height);
  float across = 1;
  float down = 1;
  glfwGetMonitorContentScale(monitor, &across, &down);
  if (width > 0 && height > 0 && across > 0 && down > 0)
    size = {std::min(size.width, static_cast<int>(static_cast<float>(width) / across)),
            std::min(size.height, static_cast<int>(static_cast<float>(height) / down))};
  return size;
}

}  // namespace

Result<GlfwWindow> GlfwWindow::open(const std::string& title, bool visible) {
  if (glfwInit() == GLFW_FALSE)
    return failed(
        "there is no display to open a window on; `petalproof check PLAN` and the other commands need none");
  auto state = std::make_unique<State>();
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
  glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
  glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
  glfwWindowHint(GLFW_SCALE_TO_MONITOR, GLFW_TRUE);
  glfwWindowHint(GLFW_VISIBLE, visible ? GLFW_TRUE : GLFW_FALSE);
  const WindowSize size = firstSize();
  state->window = glfwCreateWindow(size.width, size.height, title.c_str(), nullptr, nullptr);
  if (state->window == nullptr) return failed("the window needs OpenGL 3.3, which isn't there");
  glfwMakeContextCurrent(state->window);
  glfwSwapInterval(1);
  glfwSetWindowUserPointer(state->window, state.get());
  listen(state->window);
  GlfwWindow window(std::move(state));
  const float scale = window.contentScale();
  glfwSetWindowSizeLimits(window.handle(), static_cast<int>(GlfwWindow::least_width * scale),
                          static_cast<int>(GlfwWindow::least_height * scale), GLFW_DONT_CARE, GLFW_DONT_CARE);
  return Result<GlfwWindow>::success(std::move(window));
}

const PressPlaces& GlfwWindow::pressPlaces() const { return state_->presses; }

GLFWwindow* GlfwWindow::handle() const { return state_->window; }

float GlfwWindow::contentScale() const {
  float x = 1;
  float y = 1;
  glfwGetWindowContentScale(state_->window, &x, &y);
  // On systems where a pixel of the window covers several of the screen, sizes need no enlarging.
  int width = 1;
  int dense = 1;
  glfwGetWindowSize(state_->window, &width, nullptr);
  glfwGetFramebufferSize(state_->window, &dense, nullptr);
  return width > 0 && dense > 0 ? x * static_cast<float>(width) / static_cast<float>(dense) : x;
}

std::vector<KeyPress> GlfwWindow::takeKeys() { return std::exchange(state_->keys, {}); }

std::vector<std::filesystem::path> GlfwWindow::takeDropped() { return std::exchange(state_->dropped, {}); }

void GlfwWindow::wake() { glfwPostEmptyEvent(); }

}  // namespace petalproof::window
