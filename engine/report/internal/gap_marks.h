#pragma once
// Marks gaps on a picture: an outline whose style tells how the gap reads, on a light halo, and a number on a
// leader line. Style and number tell marks apart, not colour.

#include "engine/gaps/gaps.h"
#include "engine/reading/reading.h"
#include "engine/report/internal/drawing.h"
#include "engine/report/internal/label_places.h"

#include <string>

namespace petalproof::report {

// Solid where the gap shows, dashed where it is faint, dotted where it is lost; thin for slivers.
struct MarkStyle {
  reading::Reads reads = reading::Reads::shows;
  bool thin = false;
};
MarkStyle markStyleOf(const gaps::Gap& gap, reading::Reads reads);

inline constexpr Colour mark_ink{16, 42, 92};
inline constexpr Colour mark_halo{255, 255, 255};

// The halo of an outline, and the outline on it; all halos go before all outlines, so that no halo cuts
// through a neighbour's line. Points in pixels, closed or not.
void drawMarkHalo(Drawing& drawing, std::span<const glm::dvec2> points, MarkStyle style);
void drawMark(Drawing& drawing, std::span<const glm::dvec2> points, MarkStyle style);

TextStyle labelTextStyle();
glm::dvec2 labelSize(const Drawing& drawing, const std::string& number);
void drawLeader(Drawing& drawing, const LabelPlace& place);
void drawLabel(Drawing& drawing, const LabelPlace& place, const std::string& number);

}  // namespace petalproof::report
