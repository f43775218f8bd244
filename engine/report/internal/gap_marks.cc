#include "engine/report/internal/gap_marks.h"

#include "engine/report/internal/spots.h"

#include <glm/common.hpp>

#include <algorithm>
#include <array>

namespace petalproof::report {
namespace {

Stroke haloStroke(const MarkStyle& style) {
  return style.thin ? Stroke{3.2, mark_halo, 0.8, {}} : Stroke{4.8, mark_halo, 0.95, {}};
}

std::vector<double> dashesOf(reading::Reads reads) {
  switch (reads) {
    case reading::Reads::shows: return {};
    case reading::Reads::faint: return {9, 5};
    case reading::Reads::lost: return {2, 3};
  }
  return {};
}

// The line to a label starts on the label's rim, towards the tip.
glm::dvec2 startOf(const LabelPlace& place) {
  const PixelRect& r = place.rect;
  return glm::clamp(place.tip, glm::dvec2(r.left, r.top), glm::dvec2(r.right(), r.bottom()));
}

}  // namespace

MarkStyle markStyleOf(const gaps::Gap& gap, reading::Reads reads) { return {reads, isSliver(gap)}; }

void drawMarkHalo(Drawing& drawing, std::span<const glm::dvec2> points, MarkStyle style) {
  drawing.line(points, haloStroke(style));
}

void drawMark(Drawing& drawing, std::span<const glm::dvec2> points, MarkStyle style) {
  drawing.line(points, {style.thin ? 1.2 : 2.2, mark_ink, 1, dashesOf(style.reads)});
}

TextStyle labelTextStyle() { return {19, Face::sansBold, mark_ink, Align::middle, 0}; }

glm::dvec2 labelSize(const Drawing& drawing, const std::string& number) {
  const PixelRect text = drawing.extentOf(number, labelTextStyle());
  return {std::max(text.width + 14, text.height + 4), text.height + 4};
}

void drawLeader(Drawing& drawing, const LabelPlace& place) {
  const std::array<glm::dvec2, 2> line{startOf(place), place.tip};
  drawing.line(line, {4.6, mark_halo, 0.95, {}});
  drawing.line(line, {1.8, mark_ink, 1, {}});
}

void drawLabel(Drawing& drawing, const LabelPlace& place, const std::string& number) {
  constexpr double corner_px = 7;
  drawing.fill(place.rect, mark_halo, 0.96, corner_px);
  drawing.frame(place.rect, {1.6, mark_ink, 1, {}}, corner_px);
  const PixelRect text = drawing.extentOf(number, labelTextStyle());
  drawing.text(number, labelTextStyle(),
               {place.rect.middle().x, place.rect.top + (place.rect.height - text.height) / 2});
}

}  // namespace petalproof::report
