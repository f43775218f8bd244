#pragma once
#include <span>
#include <string_view>

namespace petalproof::window {

// A page of the manual as it stands in assets/manual.
struct ManualText {
  std::string_view file;  // "plan-file.md"
  std::string_view text;  // Markdown
};

// All pages in the order in which the window lists them (viewer/window/CMakeLists.txt).
std::span<const ManualText> manualTexts();

}  // namespace petalproof::window
