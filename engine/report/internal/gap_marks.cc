#include "engine/report/internal/gap_marks.h"

#include "engine/report/spots.h"

#include <glm/common.hpp>

#include <algorithm>
#include <array>

namespace petalproof {
namespace {

Stroke haloStroke(MarkStyle style) {
  switch (style) {
    case MarkStyle::crossing: return {7, mark_halo, 0.95, {}};
    case MarkStyle::seam:
    case MarkStyle::board: return {4.8, mark_halo, 0.95, {}};
    case MarkStyle::sliver: return {3.2, mark_halo, 0.8, {}};
  }
  return {};
}

// Where the line to a label starts: on the label's rim, towards the tip.
glm::dvec2 startOf(const LabelPlace& place) {
  const PixelRect& r = place.rect;
  return glm::clamp(place.tip, glm::dvec2(r.left, r.top), glm::dvec2(r.right(), r.bottom()));
}

}  // namespace

MarkStyle markStyleOf(const Gap& gap) {
  if (isSliver(gap)) return MarkStyle::sliver;
  switch (gap.owner.kind) {
    case GapKind::crossing: return MarkStyle::crossing;
    case GapKind::seam: return MarkStyle::seam;
    case GapKind::board: return MarkStyle::board;
  }
  return MarkStyle::board;
}

void drawMarkHalo(Drawing& drawing, std::span<const glm::dvec2> points, MarkStyle style) {
  drawing.line(points, haloStroke(style));
}

void drawMark(Drawing& drawing, std::span<const glm::dvec2> points, MarkStyle style) {
  switch (style) {
    case MarkStyle::crossing:
      drawing.line(points, {4.8, mark_ink, 1, {}});
      drawing.line(points, {1.7, mark_halo, 1, {}});
      return;
    case MarkStyle::seam: drawing.line(points, {2.3, mark_ink, 1, {9, 5}}); return;
    case MarkStyle::board: drawing.line(points, {2.2, mark_ink, 1, {}}); return;
    case MarkStyle::sliver: drawing.line(points, {1.2, mark_ink, 1, {2, 2}}); return;
  }
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

}  // namespace petalproof
