#pragma once
// Finds and loads the window's letters. ImGuiContextOwner loads them for each scale; everything that draws
// text uses them through Ui (ui.h).

#include <imgui.h>

#include <optional>
#include <string>

namespace petalproof::window {

struct Fonts {
  ImFont* text = nullptr;
  ImFont* bold = nullptr;
  ImFont* title = nullptr;  // serif, larger
  ImFont* small = nullptr;  // for tapes and labels
  ImFont* mono = nullptr;   // for commands and lines of files
};

// The file of a font ("DejaVu Sans:bold") or of the nearest font; nothing where the system has no font.
std::optional<std::string> fontFile(const std::string& pattern);

// Loads Latin (with Extended-A and B), Greek and Cyrillic letters, in place of those loaded before. Without a
// font's file, Dear ImGui's own plain letters.
Fonts loadFonts(float scale);

}  // namespace petalproof::window
