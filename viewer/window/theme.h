#pragma once
// The window's colours, light and dark: a worktable, paper on it, a pencil. Views read them through Ui
// (ui.h); ImGuiContextOwner applies them to widgets.

#include "engine/base/colour.h"

#include <imgui.h>

namespace petalproof::window {

struct Theme {
  bool dark = false;
  ImU32 table = 0;        // behind everything
  ImU32 paper = 0;        // sheets on the table
  ImU32 ink = 0;          // letters
  ImU32 faint = 0;        // less important letters
  ImU32 line = 0;         // edges of sheets, fine lines
  ImU32 pencil = 0;       // handles, chosen things
  ImU32 pencil_soft = 0;  // the ground of chosen things
  ImU32 warm = 0;         // warnings, gaps that show
  ImU32 tape = 0;         // tape measures
  ImU32 tape_ink = 0;
  Colour paper_colour;  // as `paper`, for pictures
};

const Theme& themeOf(bool dark);

// Dear ImGui has no colour for warnings: `warm` takes the place of a colour that the window doesn't use.
constexpr ImGuiCol warm_colour = ImGuiCol_PlotLinesHovered;

// Gives Dear ImGui's widgets these colours, and sizes `scale` times those at 96 dots an inch.
void applyTheme(const Theme& theme, float scale);

// The colour with an opacity of `share`.
ImU32 faded(ImU32 colour, float share);

}  // namespace petalproof::window
