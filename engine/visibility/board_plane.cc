#include "engine/visibility/visibility_buffer.h"

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

// A cell and whether a place in it lies in the slit after it (right of a column, below a row).
struct Along {
  int cell = 0;
  bool in_slit = false;
};

// Cell c is [left_mm(c), left_mm(c + 1)): a panel's width, then a slit; the last has no slit.
Along columnAt(const PanelGrid& panels, double x) {
  const double pitch = panels.panel_width_mm + panels.seam_mm;
  int c = std::clamp(static_cast<int>(x / pitch), 0, panels.columns - 1);
  while (c > 0 && x < panels.left_mm(c)) --c;
  while (c + 1 < panels.columns && x >= panels.left_mm(c + 1)) ++c;
  const bool has_slit = panels.seam_mm > 0 && c + 1 < panels.columns;
  return {c, has_slit && x >= panels.left_mm(c) + panels.panel_width_mm};
}

// Cell r is [top_mm(r + 1), top_mm(r)): a panel's height down from its top, then a slit.
Along rowAt(const PanelGrid& panels, double y) {
  const double pitch = panels.panel_height_mm + panels.seam_mm;
  int r = std::clamp(static_cast<int>((panels.height_mm() - y) / pitch), 0, panels.rows - 1);
  while (r > 0 && y >= panels.top_mm(r)) --r;
  while (r + 1 < panels.rows && y < panels.top_mm(r + 1)) ++r;
  const bool has_slit = panels.seam_mm > 0 && r + 1 < panels.rows;
  return {r, has_slit && y < panels.top_mm(r) - panels.panel_height_mm};
}

int panelsAround(const PanelGrid& panels, Along column, Along row) {
  int count = 0;
  for (int r = row.cell; r <= row.cell + (row.in_slit ? 1 : 0); ++r) {
    for (int c = column.cell; c <= column.cell + (column.in_slit ? 1 : 0); ++c) {
      count += panels.panelAt(c, r) ? 1 : 0;
    }
  }
  return count;
}

}  // namespace

PixelId boardPlaneAt(const PanelGrid& panels, BoardPoint place) {
  const double x = place.mm.x;
  const double y = place.mm.y;
  const bool on_wall = x >= 0 && x <= panels.width_mm() && y >= 0 && y <= panels.height_mm();
  if (!on_wall || panels.columns < 1 || panels.rows < 1) return {};
  const Along column = columnAt(panels, x);
  const Along row = rowAt(panels, y);
  const int around = panelsAround(panels, column, row);
  if (column.in_slit || row.in_slit) return {around >= 2 ? Sees::seam : Sees::behind, 0};
  if (around == 0) return {Sees::behind, 0};
  return {Sees::board, static_cast<std::uint32_t>(row.cell * panels.columns + column.cell)};
}

}  // namespace petalproof
