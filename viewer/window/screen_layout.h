#pragma once
// Divides the window among the parts of the screen. Screen and tests call it.

#include "viewer/window/ui.h"

namespace petalproof::window {

// The areas of the parts of the screen. Nothing is cut off in a window of 1024 x 700 or larger.
struct ScreenLayout {
  Area top;         // the plan's name, the views, undo
  Area main;        // the wall drawing, or the wall in 3D
  Area floor_plan;  // upper right
  Area notes;       // the notebook of widgets, below the floor plan
  Area prints;      // the board of prints, along the lower edge
};

ScreenLayout layOutScreen(ImVec2 window_size, float scale);

}  // namespace petalproof::window
