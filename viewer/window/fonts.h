#pragma once
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

// A font's file by what it is called ("DejaVu Sans:bold"), or what comes nearest; nothing where there is
// none.
std::optional<std::string> fontFile(const std::string& pattern);

// Loads letters of Latin (also Extended-A and B), Greek and Cyrillic. Without a font's file, Dear ImGui's own
// plain letters. Replaces those loaded before.
Fonts loadFonts(float scale);

}  // namespace petalproof::window
