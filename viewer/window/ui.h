#pragma once
// What every view is given to draw with.

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
  float scale = 1;             // of sizes in pixels, from 96 dots an inch
  int* last_stroke = nullptr;  // of the hand, from whatever view
  ImVec2 pressed_at{0, 0};  // where the left button went down last, and up: the mouse may be farther by now
  ImVec2 released_at{0, 0};

  std::vector<KeyPress> keys;  // that went down since the last frame, however long that took

  // Whether it was pressed with just these of Ctrl, Shift and Alt (GLFW_MOD_...), and nobody types.
  bool wasPressed(int key, int mods = 0) const;
  // Even while somebody types, with whatever else.
  bool wasPressedAnyhow(int key) const;

  // For the edits from mouse down to mouse up, which are one step (viewer/app/action.h).
  int newStroke() const { return ++*last_stroke; }
};

// How wide the marks of gaps are, at 96 dots an inch.
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

// Text with its anchor at `at`: `along` 0 left, 0.5 middle, 1 right of it; `down` likewise. Returns what it
// takes.
Area drawText(ImDrawList& list, ImFont* font, ImU32 colour, ImVec2 at, const std::string& text,
              float along = 0, float down = 0);
// The same, moved so that all of it is in `inside`.
Area drawTextInside(ImDrawList& list, ImFont* font, ImU32 colour, ImVec2 at, const std::string& text,
                    float along, float down, const Area& inside);
// The same on a strip of paper, so that it can be read on anything.
Area drawLabel(ImDrawList& list, const Ui& ui, ImFont* font, ImVec2 at, const std::string& text,
               float along = 0.5F, float down = 0.5F);

// As much of the text as there is room for; "..." in place of the rest.
std::string shortened(ImFont* font, const std::string& text, float width);

// A sheet of paper on the table.
void drawSheet(ImDrawList& list, const Ui& ui, const Area& area);

// An OpenGL texture whose first row is the lowest of the picture.
void drawTexture(ImDrawList& list, unsigned texture, const Area& area);

// How many pixels of the screen one of Dear ImGui's is, and how many an area has.
float pixelDensity();
glm::ivec2 pixelsOf(const Area& area);

// A line of pieces.
void drawDashed(ImDrawList& list, ImVec2 from, ImVec2 to, ImU32 colour, float width, float dash, float space);

// A window of Dear ImGui without any looks of its own that fills an area; end with ImGui::End().
// Keys walk through the widgets of Keys::throughWidgets, and of children begun with `walked_through`.
enum class Keys { forOthers, throughWidgets };
void beginArea(const char* name, const Area& area, Keys keys = Keys::forOthers);
constexpr ImGuiWindowFlags walked_through = ImGuiWindowFlags_NavFlattened;

}  // namespace petalproof::window
