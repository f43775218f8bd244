#pragma once
// Draws a parsed page of Markdown into the current window of Dear ImGui, as wide as there is room.

#include "viewer/window/markdown.h"
#include "viewer/window/ui.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::window {

struct MarkdownViewOptions {
  std::function<bool(const std::string&)> opens;  // whether a link can be pressed; others are plain words
  std::string scroll_to;                          // the anchor of a heading to begin at; empty: nowhere
};

// The link that was pressed in this frame.
std::optional<std::string> drawMarkdown(const std::vector<MarkdownBlock>& page, const Ui& ui,
                                        const MarkdownViewOptions& options);

}  // namespace petalproof::window
