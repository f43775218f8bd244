#pragma once
// The manual's pages as tests read them: parsed by the parser that the window shows them with.

#include "viewer/window/markdown.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace petalproof::testing {

using window::MarkdownBlock;
using window::MarkdownKind;
using Blocks = std::vector<MarkdownBlock>;

inline std::filesystem::path manualFolder() {
  return std::filesystem::path(PETALPROOF_SOURCE_DIR) / "assets/manual";
}

inline std::string pageText(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

inline Blocks pageBlocks(const std::filesystem::path& file) { return window::parseMarkdown(pageText(file)); }

inline std::vector<std::filesystem::path> manualFiles() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(manualFolder())) files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

inline bool hasCode(const window::MarkdownLine& line, const std::string& code) {
  return std::any_of(line.begin(), line.end(),
                     [&](const window::MarkdownSpan& span) { return span.code && span.text == code; });
}

// The blocks below the first heading that says `words`, or says them as code, down to the next heading of at
// most `level`.
inline Blocks sectionOf(const Blocks& page, const std::string& words, int level) {
  Blocks section;
  bool inside = false;
  for (const MarkdownBlock& block : page) {
    const bool is_heading = block.kind == MarkdownKind::heading;
    if (inside && is_heading && block.level <= level) break;
    if (inside) section.push_back(block);
    if (!inside && is_heading) inside = window::plainText(block.line) == words || hasCode(block.line, words);
  }
  return section;
}

// The code in the first column of the tables whose first heading is `heading`.
inline std::set<std::string> firstColumn(const Blocks& blocks, const std::string& heading) {
  std::set<std::string> found;
  for (const MarkdownBlock& block : blocks) {
    if (block.kind != MarkdownKind::table || window::plainText(block.table[0][0]) != heading) continue;
    for (const auto& row : block.table)
      for (const window::MarkdownSpan& span : row[0])
        if (span.code) found.insert(span.text);
  }
  return found;
}

}  // namespace petalproof::testing
