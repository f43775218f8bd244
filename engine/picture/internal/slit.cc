#include "engine/picture/internal/slit.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace petalproof::picture {
namespace {

constexpr double far_mm = 1e6;

// Along one axis: panels and slits take turns, from 0; outside of them nothing.
struct Axis {
  int count = 0;
  double panel_mm = 0;
  double seam_mm = 0;

  double pitch() const { return panel_mm + seam_mm; }
  double startOf(int panel) const { return panel * pitch(); }
};

// A stretch of an axis: a panel, or the slit after panel `panel` (-1 and count - 1: outside).
struct Stretch {
  int panel = 0;
  bool slit = false;
  double from = 0;
  double to = 0;
};

Stretch slitAfter(const Axis& axis, int panel) {
  const double from = panel < 0 ? -far_mm : axis.startOf(panel) + axis.panel_mm;
  const double to = panel >= axis.count - 1 ? axis.startOf(axis.count - 1) + axis.panel_mm + far_mm
                                            : axis.startOf(panel + 1);
  return {panel, true, from, to};
}

Stretch stretchAt(const Axis& axis, double mm) {
  if (mm < 0) return slitAfter(axis, -1);
  const int panel = static_cast<int>(std::min(mm / axis.pitch(), axis.count - 1.0));
  if (mm > axis.startOf(panel) + axis.panel_mm) return slitAfter(axis, panel);
  return {panel, false, axis.startOf(panel), axis.startOf(panel) + axis.panel_mm};
}

Stretch next(const Axis& axis, const Stretch& at, bool onwards) {
  const auto panelAt = [&](int k) {
    return Stretch{k, false, axis.startOf(k), axis.startOf(k) + axis.panel_mm};
  };
  if (!at.slit) {
    const Stretch slit = slitAfter(axis, onwards ? at.panel : at.panel - 1);
    if (slit.to > slit.from) return slit;
    return panelAt(onwards ? at.panel + 1 : at.panel - 1);  // panels that touch
  }
  return panelAt(onwards ? at.panel + 1 : at.panel);
}

bool isOutside(const Axis& axis, const Stretch& at) {
  return at.slit && (at.panel < 0 || at.panel >= axis.count - 1);
}

// How deep the line is when it leaves the stretch.
double depthAtEnd(const Stretch& at, double from_mm, double slope) {
  if (slope == 0) return std::numeric_limits<double>::infinity();
  return std::max(0.0, ((slope > 0 ? at.to : at.from) - from_mm) / slope);
}

}  // namespace

float opennessOfFloor(double from_mm, double to_mm, double depth_mm) {
  const auto sine = [depth_mm](double aside) { return aside / std::hypot(aside, depth_mm); };
  if (!(depth_mm > 0)) return 1.0F;
  return static_cast<float>((sine(std::max(from_mm, 0.0)) + sine(std::max(to_mm, 0.0))) / 2);
}

float opennessOfWall(double across_mm, double depth_mm) {
  const double reach = std::hypot(across_mm, depth_mm);
  return reach > 0 ? static_cast<float>((1 - depth_mm / reach) / 2) : 0.0F;
}

BehindPlane behindPlane(const scene::PanelGrid& panels, BoardPoint opening, glm::dvec2 slope) {
  const Axis across{panels.columns, panels.panel_width_mm, panels.seam_mm};
  const Axis up{panels.rows, panels.panel_height_mm, panels.seam_mm};
  const auto hasPanel = [&](const Stretch& x, const Stretch& y) {
    return !x.slit && !y.slit && panels.panelAt(x.panel, panels.rows - 1 - y.panel);
  };
  Stretch x = stretchAt(across, opening.mm.x);
  Stretch y = stretchAt(up, opening.mm.y);
  for (;;) {
    const double depth_x = depthAtEnd(x, opening.mm.x, slope.x);
    const double depth_y = depthAtEnd(y, opening.mm.y, slope.y);
    const double depth = std::min(depth_x, depth_y);
    const bool sideways = depth_x <= depth_y;
    const bool leaves = sideways ? isOutside(across, x) && (slope.x > 0) == (x.panel >= 0)
                                 : isOutside(up, y) && (slope.y > 0) == (y.panel >= 0);
    if (!(depth < panels.thickness_mm) || leaves) break;
    const double opened = sideways ? x.to - x.from : y.to - y.from;
    (sideways ? x : y) = sideways ? next(across, x, slope.x > 0) : next(up, y, slope.y > 0);
    if (hasPanel(x, y)) return {BehindPlane::Meets::edge, opennessOfWall(opened, depth)};
  }
  if (isOutside(across, x) || isOutside(up, y)) return {BehindPlane::Meets::open, 1};
  const glm::dvec2 end = opening.mm + panels.thickness_mm * slope;
  return {BehindPlane::Meets::behind, opennessOfFloor(end.x - x.from, x.to - end.x, panels.thickness_mm) *
                                          opennessOfFloor(end.y - y.from, y.to - end.y, panels.thickness_mm)};
}

}  // namespace petalproof::picture
