#pragma once
// A page of Markdown as a list of blocks, parsed by MD4C: what the manual's view draws and its tests read.

#include <string>
#include <string_view>
#include <vector>

namespace petalproof::window {

// Letters of one style.
struct MarkdownSpan {
  std::string text;
  bool bold = false;
  bool italic = false;
  bool code = false;
  std::string link;  // its target, or a picture's file; empty: no link
};
using MarkdownLine = std::vector<MarkdownSpan>;

enum class MarkdownKind { heading, paragraph, item, code, table };

struct MarkdownBlock {
  MarkdownKind kind = MarkdownKind::paragraph;
  int level = 0;                                 // of a heading from 1; how deep a list is, from 1
  std::string marker;                            // of an item: "•", "2."; empty for its further paragraphs
  MarkdownLine line;                             // of a heading, paragraph or item
  std::string code;                              // of code, lines end in '\n'
  std::string info;                              // of code: what follows the ```
  std::vector<std::vector<MarkdownLine>> table;  // rows of cells, the heading row first
};

// CommonMark with tables; raw HTML is text. Every text parses.
std::vector<MarkdownBlock> parseMarkdown(std::string_view text);

// The letters alone.
std::string plainText(const MarkdownLine& line);

// The text after the '#' in a link to a heading: "Fillers for real hands" is "fillers-for-real-hands".
std::string headingAnchor(std::string_view heading);

}  // namespace petalproof::window
