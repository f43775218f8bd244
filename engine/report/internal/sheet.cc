#include "engine/report/internal/sheet.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::report {
namespace {

constexpr int margin_px = 60;
constexpr int least_words_px = 900;  // narrower columns of words break into too many lines
constexpr double sample_width_px = 64;
constexpr double key_gap_px = 44;
constexpr double line_gap_px = 8;
constexpr double block_gap_px = 22;

struct Column {
  double left;
  double width;
};

TextStyle titleStyle(double width) { return {42, Face::serif, sheet_ink, Align::left, width}; }
TextStyle detailStyle(double width) { return {20, Face::sans, sheet_grey, Align::left, width}; }
TextStyle findingStyle(double width) { return {22, Face::sansBold, sheet_ink, Align::left, width}; }
TextStyle keyStyle(double width) { return {19, Face::sans, sheet_ink, Align::left, width}; }
TextStyle noteStyle(double width) { return {19, Face::sans, sheet_grey, Align::left, width}; }

// Draws a text, or only measures it; returns the place below it.
double put(Drawing& drawing, const std::string& text, const TextStyle& style, glm::dvec2 at, bool draw) {
  if (text.empty()) return at.y;
  const PixelRect extent = draw ? drawing.text(text, style, at) : drawing.extentOf(text, style, at);
  return extent.bottom() + line_gap_px;
}

double heading(Drawing& drawing, const SheetText& text, Column column, double top, bool draw) {
  double y = put(drawing, text.title, titleStyle(column.width), {column.left, top}, draw) + 2;
  for (const std::string& detail : text.details) {
    y = put(drawing, detail, detailStyle(column.width), {column.left, y}, draw);
  }
  return put(drawing, text.finding, findingStyle(column.width), {column.left, y + 6}, draw);
}

double key(Drawing& drawing, const std::vector<KeyEntry>& entries, Column column, double top, bool draw) {
  double x = column.left;
  double y = top;
  double below = top;
  for (const KeyEntry& entry : entries) {
    const double room = column.width - sample_width_px - 14;
    const PixelRect extent = drawing.extentOf(entry.meaning, keyStyle(room));
    const double width = sample_width_px + 14 + extent.width;
    if (x > column.left && x + width > column.left + column.width) {
      x = column.left;
      y = below + line_gap_px;
    }
    if (draw) {
      entry.sample(drawing, {x, y, sample_width_px, extent.height});
      drawing.text(entry.meaning, keyStyle(room), {x + sample_width_px + 14, y});
    }
    below = std::max(below, y + extent.height);
    x += width + key_gap_px;
  }
  return entries.empty() ? top : below + line_gap_px;
}

double foot(Drawing& drawing, const SheetText& text, Column column, double top, bool draw) {
  double y = key(drawing, text.key, column, top, draw);
  if (!text.key.empty()) y += 8;
  for (const std::string& note : text.notes) {
    y = put(drawing, note, noteStyle(column.width), {column.left, y}, draw);
  }
  return y;
}

Column columnOf(int sheet_width_px) {
  return {static_cast<double>(margin_px), static_cast<double>(sheet_width_px - 2 * margin_px)};
}

}  // namespace

SheetLayout layOut(const SheetText& text, glm::ivec2 picture_px, int beside_px) {
  Drawing scratch(1, 1, sheet_paper);
  SheetLayout layout;
  layout.width_px = std::max(picture_px.x + beside_px, least_words_px) + 2 * margin_px;
  const Column column = columnOf(layout.width_px);
  layout.picture_left = (layout.width_px - picture_px.x + beside_px) / 2;
  layout.picture_top =
      static_cast<int>(std::ceil(heading(scratch, text, column, margin_px, false) + block_gap_px)) +
      beside_px;
  const double foot_top = layout.picture_top + picture_px.y + block_gap_px;
  layout.height_px =
      static_cast<int>(std::ceil(foot(scratch, text, column, foot_top, false))) + margin_px - 8;
  return layout;
}

Drawing startSheet(const SheetText& text, const SheetLayout& layout, glm::ivec2 picture_px) {
  Drawing drawing(layout.width_px, layout.height_px, sheet_paper);
  const Column column = columnOf(layout.width_px);
  heading(drawing, text, column, margin_px, true);
  foot(drawing, text, column, layout.picture_top + picture_px.y + block_gap_px, true);
  return drawing;
}

}  // namespace petalproof::report
