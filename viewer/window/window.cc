#include "viewer/window/window.h"

#include "viewer/window/glfw_window.h"
#include "viewer/window/imgui_context.h"
#include "viewer/window/places.h"
#include "viewer/window/screen.h"

#include "viewer/app/end_watch.h"
#include "viewer/app/session.h"

#include <GLFW/glfw3.h>
#include <epoxy/gl.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <optional>
#include <utility>

namespace petalproof::window {
namespace {

// Dear ImGui needs a few frames until what the mouse is over, and sizes, are settled.
constexpr int frames_after_event = 3;
// A quick picture is followed by a fine one after this rest.
constexpr double rest_s = 0.08;
// How long a closed window waits for its workers.
constexpr std::chrono::milliseconds patience_at_end{1000};

// Work that couldn't be kept safe is tried again after this time.
constexpr double retry_s = 2;

// Waits until there is something to show; an idle window takes no processor time. How many frames to draw.
int waitFor(int frames_left, bool wants_frame, bool retries) {
  if (frames_left > 0) {
    glfwPollEvents();
    return frames_left - 1;
  }
  if (wants_frame) {
    glfwWaitEventsTimeout(rest_s);
    return 0;
  }
  if (retries)
    glfwWaitEventsTimeout(retry_s);
  else
    glfwWaitEvents();
  return frames_after_event - 1;
}

void showFrame(GLFWwindow* window, const ImGuiContextOwner& imgui) {
  int width = 0;
  int height = 0;
  glfwGetFramebufferSize(window, &width, &height);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  glViewport(0, 0, width, height);
  imgui.render();
  glfwSwapBuffers(window);
}

// The wished scale, limited so that the window has room for all its parts.
float fittingScale(GLFWwindow* window, float wished) {
  int width = 0;
  int height = 0;
  glfwGetWindowSize(window, &width, &height);
  const float room = std::min(static_cast<float>(width) / GlfwWindow::least_width,
                              static_cast<float>(height) / GlfwWindow::least_height);
  // In eighths: letters are loaded anew for each scale.
  constexpr float steps = 8;
  constexpr float smallest = 0.5F;
  const float largest = std::max(smallest, std::floor(room * steps) / steps);
  return width > 0 && height > 0 ? std::min(wished, largest) : wished;
}

app::SessionOptions sessionOptions(const WindowOptions& options) {
  app::SessionOptions session;
  session.threads = options.threads;
  session.state_folder = stateFolder();
  session.assets = assetsFolder();
  session.wake = [] { GlfwWindow::wake(); };
  return session;
}

void loop(GlfwWindow& window, app::Session& session) {
  ImGuiContextOwner imgui(window.handle());
  Screen screen;
  int last_stroke = 0;
  int frames_left = frames_after_event;
  bool had_focus = true;
  while (!screen.mayClose()) {
    frames_left = waitFor(frames_left, screen.wantsFrame(session.state()), !session.state().at_risk.empty());
    session.poll();
    const app::ViewChoices& view = session.state().view;
    const float wished = view.scale > 0 ? static_cast<float>(view.scale) : window.contentScale();
    const float scale = fittingScale(window.handle(), wished);
    const PressPlaces& press = window.pressPlaces();
    const Ui ui{themeOf(view.dark),
                imgui.begin(themeOf(view.dark), scale),
                scale,
                &last_stroke,
                {static_cast<float>(press.down_x), static_cast<float>(press.down_y)},
                {static_cast<float>(press.up_x), static_cast<float>(press.up_y)},
                window.takeKeys()};
    Events events;
    events.dropped = window.takeDropped();
    events.wants_to_close = glfwWindowShouldClose(window.handle()) == GLFW_TRUE;
    glfwSetWindowShouldClose(window.handle(), GLFW_FALSE);
    const bool has_focus = glfwGetWindowAttrib(window.handle(), GLFW_FOCUSED) == GLFW_TRUE;
    if (has_focus && !std::exchange(had_focus, has_focus)) session.perform(app::LookAtDisk{});
    had_focus = has_focus;
    const app::Actions actions = screen.draw(session.state(), ui, events);
    if (!actions.empty() || imgui.hadInput() || screen.isMoving(session.state()))
      frames_left = frames_after_event;
    showFrame(window.handle(), imgui);
    for (const app::Action& action : actions) session.perform(action);
  }
}

}  // namespace

std::optional<std::string> runWindow(const WindowOptions& options) {
  auto window = GlfwWindow::open("Petalproof");
  if (!window) return window.problems.front().message;
  std::optional<app::EndWatch> ending;  // until the session, which waits for its workers, has ended
  app::Session session(sessionOptions(options));
  if (!options.plan.empty()) session.perform(app::OpenPlan{options.plan});
  loop(*window.value, session);
  ending.emplace(patience_at_end);
  return std::nullopt;
}

}  // namespace petalproof::window
