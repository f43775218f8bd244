#include "viewer/window/screen_layout.h"

#include <algorithm>

namespace petalproof::window {

ScreenLayout layOutScreen(ImVec2 window_size, float scale) {
  // Shares of the window and limits in pixels at 96 dots an inch, set by eye.
  const float gap = 10 * scale;
  const float top = 46 * scale;
  const float right = std::clamp(window_size.x * 0.27F, 324 * scale, 420 * scale);
  const float prints = std::clamp(window_size.y * 0.21F, 138 * scale, 210 * scale);
  const float floor_plan = std::clamp(window_size.y * 0.27F, 170 * scale, 300 * scale);
  const float main_bottom = window_size.y - prints - gap;
  const float main_right = window_size.x - right - 2 * gap;
  ScreenLayout layout;
  layout.top = {{0, 0}, {window_size.x, top}};
  layout.main = {{gap, top}, {main_right, main_bottom}};
  layout.prints = {{gap, main_bottom + gap}, {main_right, window_size.y - gap}};
  layout.floor_plan = {{main_right + gap, top}, {window_size.x - gap, top + floor_plan}};
  layout.notes = {{main_right + gap, top + floor_plan + gap}, {window_size.x - gap, window_size.y - gap}};
  return layout;
}

}  // namespace petalproof::window
