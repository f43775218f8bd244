#pragma once
// Lines as a soft pencil draws them: never quite straight, gone over twice.

#include "viewer/window/ui.h"

namespace petalproof::window {

void pencilLine(ImDrawList& list, ImVec2 from, ImVec2 to, ImU32 colour, float width);
void pencilEllipse(ImDrawList& list, ImVec2 middle, ImVec2 radius, ImU32 colour, float width);

// Words along a line, above its middle; level where the line is too steep to read along.
void textAlong(ImDrawList& list, const Ui& ui, ImVec2 from, ImVec2 to, const std::string& text);

}  // namespace petalproof::window
