#include "engine/gaps/internal/owner_zone.h"

#include <algorithm>

namespace petalproof::gaps {
namespace {

// Zones stay this far from where another owner begins.
constexpr double zone_margin_mm = 1e-6;

bool anyPanel(const scene::PanelGrid& panels, int first_column, int last_column, int first_row,
              int last_row) {
  for (int row = first_row; row <= last_row; ++row)
    for (int column = first_column; column <= last_column; ++column)
      if (panels.panelAt(column, row)) return true;
  return false;
}

bool contains(const BoardRect& rect, glm::dvec2 p) {
  return p.x >= rect.min_mm.x && p.x <= rect.max_mm.x && p.y >= rect.min_mm.y && p.y <= rect.max_mm.y;
}

// The part of a panel that no seam or crossing reaches.
BoardRect innerZone(const scene::PanelGrid& panels, int column, int row) {
  const double reach = owner_reach_mm + zone_margin_mm;
  const auto margin = [&](bool neighbours) { return neighbours ? reach : 0.0; };
  const double left = panels.left_mm(column);
  const double top = panels.top_mm(row);
  const double from_left = margin(anyPanel(panels, column - 1, column - 1, row - 1, row + 1));
  const double from_right = margin(anyPanel(panels, column + 1, column + 1, row - 1, row + 1));
  const double from_top = margin(anyPanel(panels, column - 1, column + 1, row - 1, row - 1));
  const double from_bottom = margin(anyPanel(panels, column - 1, column + 1, row + 1, row + 1));
  return {{left + from_left, top - panels.panel_height_mm + from_bottom},
          {left + panels.panel_width_mm - from_right, top - from_top}};
}

// The part of a seam's reach that no other seam or crossing reaches.
BoardRect seamZone(const scene::PanelGrid& panels, const Owner& seam) {
  const double within = owner_reach_mm - zone_margin_mm;
  const double beyond = owner_reach_mm + zone_margin_mm;
  const double left = panels.left_mm(seam.column);
  const double top = panels.top_mm(seam.row);
  if (seam.upright) {
    const double x = panels.slitRightOf_mm(seam.column);
    return {{x - within, top - panels.panel_height_mm + beyond}, {x + within, top - beyond}};
  }
  const double y = panels.slitBelow_mm(seam.row);
  return {{left + beyond, y - within}, {left + panels.panel_width_mm - beyond, y + within}};
}

}  // namespace

OwnerZone ownerZoneAt(const scene::PanelGrid& panels, BoardPoint bare_place) {
  const glm::dvec2 p = bare_place.mm;
  const int column = panels.columnAt(p.x);
  const int row = panels.rowAt(p.y);
  // On panels as narrow as two reaches the zones would overlap.
  const bool simple = std::min(panels.panel_width_mm, panels.panel_height_mm) > 2.5 * owner_reach_mm;
  if (simple && panels.panelAt(column, row)) {
    const BoardRect inner = innerZone(panels, column, row);
    if (contains(inner, p)) return {{GapKind::board, column, row, false}, inner};
  }
  const Owner owner = ownerOf(panels, bare_place);
  if (simple && owner.kind == GapKind::seam) {
    const BoardRect zone = seamZone(panels, owner);
    if (contains(zone, p)) return {owner, zone};
  }
  return {owner, std::nullopt};
}

std::uint32_t labelOf(const Owner& owner, const scene::PanelGrid& panels) {
  const std::uint32_t kind = owner.kind == GapKind::crossing ? 0U
                             : owner.kind == GapKind::board  ? 1U
                             : owner.upright                 ? 2U
                                                             : 3U;
  const auto cell = static_cast<std::uint32_t>(owner.row * panels.columns + owner.column);
  return cell * 4 + kind + 1;
}

Owner ownerFromLabel(std::uint32_t label, const scene::PanelGrid& panels) {
  const std::uint32_t kind = (label - 1) % 4;
  const int cell = static_cast<int>((label - 1) / 4);
  const GapKind kinds[] = {GapKind::crossing, GapKind::board, GapKind::seam, GapKind::seam};
  return {kinds[kind], cell % panels.columns, cell / panels.columns, kind == 2};
}

}  // namespace petalproof::gaps
