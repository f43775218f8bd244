#pragma once
// The tools that every view and panel draws with: colours, letters, keys and helpers for texts and areas. The
// main loop (window.cc) makes an Ui for each frame.

#include "viewer/window/fonts.h"
#include "viewer/window/glfw_window.h"
#include "viewer/window/theme.h"

#include "viewer/app/action.h"
#include "viewer/app/state.h"

#include <imgui.h>
#include <glm/vec2.hpp>

#include <string>
#include <vector>

namespace petalproof::window {

struct Ui {
  Theme theme;
  Fonts fonts;
  float scale = 1;             // of sizes in pixels at 96 dots an inch
  int* last_stroke = nullptr;  // the number of the last stroke, counted over all views
  ImVec2 pressed_at{0, 0};     // where the left button last went down and up: the mouse may have moved on
  ImVec2 released_at{0, 0};

  std::vector<KeyPress> keys;  // that went down since the last frame

  // True where the key was pressed with exactly these of Ctrl, Shift and Alt (GLFW_MOD_...), outside a text
  // field.
  bool wasPressed(int key, int mods = 0) const;
  // Likewise in a text field, with any other keys.
  bool wasPressedAnyhow(int key) const;

  // A number for the edits from mouse down to mouse up, which make a single step (viewer/app/action.h).
  int newStroke() const { return ++*last_stroke; }
};

// The width of gaps' outlines, at 96 dots an inch.
constexpr float mark_px = 1.7F;

// A rectangle of the window, in Dear ImGui's pixels, y down.
struct Area {
  ImVec2 min{0, 0};
  ImVec2 max{0, 0};
  float width() const { return max.x - min.x; }
  float height() const { return max.y - min.y; }
  bool holds(ImVec2 p) const { return p.x >= min.x && p.x < max.x && p.y >= min.y && p.y < max.y; }
  ImVec2 middle() const { return {(min.x + max.x) / 2, (min.y + max.y) / 2}; }
  Area inset(float by) const { return {{min.x + by, min.y + by}, {max.x - by, max.y - by}}; }
};

// Draws text with its anchor at `at`: `along` 0 is the text's left edge, 0.5 its middle, 1 its right edge;
// `down` likewise. Returns the text's area.
Area drawText(ImDrawList& list, ImFont* font, ImU32 colour, ImVec2 at, const std::string& text,
              float along = 0, float down = 0);
// Likewise, moved so that the text lies within `inside`.
Area drawTextInside(ImDrawList& list, ImFont* font, ImU32 colour, ImVec2 at, const std::string& text,
                    float along, float down, const Area& inside);
// Likewise on a strip of paper, readable on any ground.
Area drawLabel(ImDrawList& list, const Ui& ui, ImFont* font, ImVec2 at, const std::string& text,
               float along = 0.5F, float down = 0.5F);

// The text cut to a width, with "..." at its end where it was cut.
std::string shortened(ImFont* font, const std::string& text, float width);

// Draws a sheet of paper on the table.
void drawSheet(ImDrawList& list, const Ui& ui, const Area& area);

// Draws an OpenGL texture, whose first row is the picture's lowest.
void drawTexture(ImDrawList& list, unsigned texture, const Area& area);

// Pixels of the screen for each of Dear ImGui's, and an area's size in pixels of the screen.
float pixelDensity();
glm::ivec2 pixelsOf(const Area& area);

// Draws a dashed line.
void drawDashed(ImDrawList& list, ImVec2 from, ImVec2 to, ImU32 colour, float width, float dash, float space);

// Begins a plain window of Dear ImGui that fills an area; end it with ImGui::End(). With Keys::throughWidgets
// arrow keys walk through its widgets, and through those of children begun with `walked_through`.
enum class Keys { forOthers, throughWidgets };
void beginArea(const char* name, const Area& area, Keys keys = Keys::forOthers);
constexpr ImGuiWindowFlags walked_through = ImGuiWindowFlags_NavFlattened;

}  // namespace petalproof::window
