#pragma once
// Draws lines as a soft pencil does: never quite straight, gone over twice. The floor plan is drawn with
// them.

#include "viewer/window/ui.h"

namespace petalproof::window {

void pencilLine(ImDrawList& list, ImVec2 from, ImVec2 to, ImU32 colour, float width);
void pencilEllipse(ImDrawList& list, ImVec2 middle, ImVec2 radius, ImU32 colour, float width);

// Writes words at the middle of a line: above a flat line, to the right of a steep line.
void textAlong(ImDrawList& list, const Ui& ui, ImVec2 from, ImVec2 to, const std::string& text);

}  // namespace petalproof::window
