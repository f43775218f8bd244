#pragma once
// The window's colours: a worktable, paper on it, a pencil. Light and dark.

#include "engine/base/colour.h"

#include <imgui.h>

namespace petalproof::window {

struct Theme {
  bool dark = false;
  ImU32 table = 0;        // behind everything
  ImU32 paper = 0;        // sheets on the table
  ImU32 ink = 0;          // letters
  ImU32 faint = 0;        // letters that matter less
  ImU32 line = 0;         // edges of sheets, fine lines
  ImU32 pencil = 0;       // what can be taken hold of, what is chosen
  ImU32 pencil_soft = 0;  // under what is chosen
  ImU32 warm = 0;         // gaps that show, what needs a look
  ImU32 tape = 0;         // tape measures
  ImU32 tape_ink = 0;
  Colour paper_colour;  // as `paper`, for pictures
};

const Theme& themeOf(bool dark);

// `warm` among Dear ImGui's colours, which has none for what needs a look.
constexpr ImGuiCol warm_colour = ImGuiCol_PlotLinesHovered;

// Dear ImGui's widgets in these colours, `scale` times as large as at 96 dots an inch.
void applyTheme(const Theme& theme, float scale);

// The same colour, `share` as solid.
ImU32 faded(ImU32 colour, float share);

}  // namespace petalproof::window
