#pragma once
#include "viewer/window/ui.h"

namespace petalproof::window {

// Where the parts of the screen lie. Nothing is cut off in a window of 1024 x 700 or more.
struct ScreenLayout {
  Area top;         // the plan's name, the views, undo
  Area main;        // the wall drawing, or the wall in 3D
  Area floor_plan;  // upper right
  Area notes;       // the panels of widgets, below it
  Area prints;      // the board of prints, along the lower edge
};

ScreenLayout layOutScreen(ImVec2 window_size, float scale);

}  // namespace petalproof::window
