#include "engine/report/internal/text_columns.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::report {
namespace {

constexpr std::size_t label_width = 11;

// Counts the bytes that fit into `width` characters, cut between words; a word too long for a line is kept
// whole.
std::size_t bytesOfLine(std::string_view text, std::size_t width) {
  if (widthOf(text) <= width) return text.size();
  std::size_t fits = std::string_view::npos;
  for (std::size_t space = text.find(' '); space != std::string_view::npos;
       space = text.find(' ', space + 1)) {
    if (fits != std::string_view::npos && widthOf(text.substr(0, space)) > width) break;
    fits = space;
  }
  return std::min(fits, text.size());
}

}  // namespace

std::size_t widthOf(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(
      text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string labelled(std::string_view label, std::string_view text) {
  std::string lines;
  std::string_view lead = label;
  do {
    const std::size_t bytes = bytesOfLine(text, table_width - label_width - 2);
    lines += fmt::format("  {:<{}}{}\n", lead, label_width, text.substr(0, bytes));
    text.remove_prefix(std::min(bytes + 1, text.size()));
    lead = {};
  } while (!text.empty());
  return lines;
}

std::string hanging(std::string_view head, std::string_view text) {
  const std::size_t indent = widthOf(head);
  std::string lines;
  std::size_t column = indent;
  do {
    const std::size_t bytes = bytesOfLine(text, table_width - column);
    lines += fmt::format("{}{}\n", lines.empty() ? std::string(head) : std::string(column, ' '),
                         text.substr(0, bytes));
    text.remove_prefix(std::min(bytes + 1, text.size()));
    column = indent + 2;
  } while (!text.empty());
  return lines;
}

}  // namespace petalproof::report
