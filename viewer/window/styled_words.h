#pragma once
// Words of several styles on lines that break where there is no more room.

#include "viewer/window/markdown.h"
#include "viewer/window/ui.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::window {

// Letters that stay together, drawn in one style.
struct StyledWord {
  std::string text;
  const MarkdownSpan* span = nullptr;
  ImFont* font = nullptr;
  float width = 0;
  float space_before = 0;  // 0: no line may break here
};

// The words of a line, which has to outlive them. `plain` is the font of what has no style of its own.
std::vector<StyledWord> styledWords(const MarkdownLine& line, const Fonts& fonts, ImFont* plain);

struct WordWidths {
  float all = 0;      // on one line
  float longest = 0;  // of what can't be broken
};
WordWidths widthsOf(const std::vector<StyledWord>& words);

// Draws the words from the cursor on, at most `width` wide, and moves the cursor below. The link pressed.
std::optional<std::string> drawWords(const std::vector<StyledWord>& words, const Ui& ui, float width,
                                     const std::function<bool(const std::string&)>& opens);

}  // namespace petalproof::window
