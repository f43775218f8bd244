#include "engine/gaps/internal/owner_zone.h"

#include "engine/plan/plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace petalproof::gaps {
namespace {

// Distances that differ by less are a tie.
constexpr double tie_mm = 1e-9;
// Zones stay this far from where another owner begins.
constexpr double zone_margin_mm = 1e-6;

struct CellRange {
  int first_column, last_column;
  int first_row, last_row;
};

int cellIndex(double distance_mm, double pitch_mm, int count) {
  return static_cast<int>(std::clamp(std::floor(distance_mm / pitch_mm), 0.0, count - 1.0));
}

int columnAt(const scene::PanelGrid& panels, double x) {
  return cellIndex(x, panels.panel_width_mm + panels.seam_mm, panels.columns);
}

int rowAt(const scene::PanelGrid& panels, double y) {
  return cellIndex(panels.height_mm() - y, panels.panel_height_mm + panels.seam_mm, panels.rows);
}

// Cells whose panel, right or lower seam may be within `reach` of a place.
CellRange cellsAround(const scene::PanelGrid& panels, glm::dvec2 p, double reach) {
  const double wide = reach + panels.seam_mm;
  return {columnAt(panels, p.x - wide), columnAt(panels, p.x + wide), rowAt(panels, p.y + wide),
          rowAt(panels, p.y - wide)};
}

double middleOfSlitRightOf(const scene::PanelGrid& panels, int column) {
  return panels.left_mm(column + 1) - panels.seam_mm / 2;
}

double middleOfSlitBelow(const scene::PanelGrid& panels, int row) {
  return panels.top_mm(row + 1) + panels.seam_mm / 2;
}

double outside(double value, double low, double high) { return std::max({low - value, value - high, 0.0}); }

double distanceToUprightSeam(const scene::PanelGrid& panels, glm::dvec2 p, int column, int row) {
  const double top = panels.top_mm(row);
  return std::hypot(p.x - middleOfSlitRightOf(panels, column),
                    outside(p.y, top - panels.panel_height_mm, top));
}

double distanceToLevelSeam(const scene::PanelGrid& panels, glm::dvec2 p, int column, int row) {
  const double left = panels.left_mm(column);
  return std::hypot(outside(p.x, left, left + panels.panel_width_mm), p.y - middleOfSlitBelow(panels, row));
}

double distanceToPanel(const scene::PanelGrid& panels, glm::dvec2 p, int column, int row) {
  const double left = panels.left_mm(column);
  const double top = panels.top_mm(row);
  return std::hypot(outside(p.x, left, left + panels.panel_width_mm),
                    outside(p.y, top - panels.panel_height_mm, top));
}

// Keeps the nearest owner that is offered, of ties the first.
class Nearest {
 public:
  explicit Nearest(double reach_mm) : best_mm_(reach_mm + 2 * tie_mm) {}
  void offer(double distance_mm, const Owner& owner) {
    if (distance_mm >= best_mm_ - tie_mm) return;
    best_mm_ = distance_mm;
    owner_ = owner;
    any_ = true;
  }
  std::optional<Owner> found() const { return any_ ? std::optional<Owner>(owner_) : std::nullopt; }

 private:
  double best_mm_;
  bool any_ = false;
  Owner owner_;
};

template <class Visit>
void forEachCell(const CellRange& cells, const Visit& visit) {
  for (int row = cells.first_row; row <= cells.last_row; ++row)
    for (int column = cells.first_column; column <= cells.last_column; ++column) visit(column, row);
}

std::optional<Owner> nearestCrossing(const scene::PanelGrid& panels, glm::dvec2 p) {
  Nearest nearest(owner_reach_mm);
  forEachCell(cellsAround(panels, p, owner_reach_mm), [&](int column, int row) {
    if (!panels.panelAt(column, row) || !panels.panelAt(column + 1, row) ||
        !panels.panelAt(column, row + 1) || !panels.panelAt(column + 1, row + 1))
      return;
    const double distance =
        std::hypot(p.x - middleOfSlitRightOf(panels, column), p.y - middleOfSlitBelow(panels, row));
    nearest.offer(distance, {GapKind::crossing, column, row, false});
  });
  return nearest.found();
}

void offerUprightSeam(Nearest& nearest, const scene::PanelGrid& panels, glm::dvec2 p, int column, int row) {
  if (panels.panelAt(column, row) && panels.panelAt(column + 1, row))
    nearest.offer(distanceToUprightSeam(panels, p, column, row), {GapKind::seam, column, row, true});
}

void offerLevelSeam(Nearest& nearest, const scene::PanelGrid& panels, glm::dvec2 p, int column, int row) {
  if (panels.panelAt(column, row) && panels.panelAt(column, row + 1))
    nearest.offer(distanceToLevelSeam(panels, p, column, row), {GapKind::seam, column, row, false});
}

std::optional<Owner> nearestSeam(const scene::PanelGrid& panels, glm::dvec2 p) {
  Nearest nearest(owner_reach_mm);
  forEachCell(cellsAround(panels, p, owner_reach_mm), [&](int column, int row) {
    offerUprightSeam(nearest, panels, p, column, row);
    offerLevelSeam(nearest, panels, p, column, row);
  });
  return nearest.found();
}

Owner nearestPanel(const scene::PanelGrid& panels, glm::dvec2 p) {
  const int column = columnAt(panels, p.x);
  const int row = rowAt(panels, p.y);
  Nearest nearest(std::numeric_limits<double>::infinity());
  forEachCell({std::max(0, column - 1), std::min(panels.columns - 1, column + 1), std::max(0, row - 1),
               std::min(panels.rows - 1, row + 1)},
              [&](int c, int r) {
                if (panels.panelAt(c, r))
                  nearest.offer(distanceToPanel(panels, p, c, r), {GapKind::board, c, r, false});
              });
  const std::optional<Owner> panel = nearest.found();
  return panel ? *panel : Owner{GapKind::board, column, row, false};
}

// A slit so wide that its sides are out of reach of its middle still belongs to its seam; where slits cross
// to the nearest of the four seams that may end there.
std::optional<Owner> seamOfWideSlit(const scene::PanelGrid& panels, glm::dvec2 p) {
  const int column = columnAt(panels, p.x);
  const int row = rowAt(panels, p.y);
  const bool in_upright_slit = p.x > panels.left_mm(column) + panels.panel_width_mm;
  const bool in_level_slit = p.y < panels.top_mm(row) - panels.panel_height_mm;
  Nearest nearest(std::numeric_limits<double>::infinity());
  if (in_upright_slit) offerUprightSeam(nearest, panels, p, column, row);
  if (in_level_slit) offerLevelSeam(nearest, panels, p, column, row);
  if (in_upright_slit && in_level_slit) {
    offerLevelSeam(nearest, panels, p, column + 1, row);
    offerUprightSeam(nearest, panels, p, column, row + 1);
  }
  return nearest.found();
}

bool anyPanel(const scene::PanelGrid& panels, int first_column, int last_column, int first_row,
              int last_row) {
  bool any = false;
  forEachCell({first_column, last_column, first_row, last_row},
              [&](int column, int row) { any = any || panels.panelAt(column, row); });
  return any;
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
    const double x = middleOfSlitRightOf(panels, seam.column);
    return {{x - within, top - panels.panel_height_mm + beyond}, {x + within, top - beyond}};
  }
  const double y = middleOfSlitBelow(panels, seam.row);
  return {{left + beyond, y - within}, {left + panels.panel_width_mm - beyond, y + within}};
}

}  // namespace

std::string nameOf(const Owner& owner) {
  const std::string first = plan::cellName(owner.column, owner.row);
  if (owner.kind == GapKind::board) return first;
  if (owner.kind == GapKind::crossing)
    return fmt::format("{}+{}", first, plan::cellName(owner.column + 1, owner.row + 1));
  return owner.upright ? fmt::format("{}|{}", first, plan::cellName(owner.column + 1, owner.row))
                       : fmt::format("{}/{}", first, plan::cellName(owner.column, owner.row + 1));
}

Owner ownerOf(const scene::PanelGrid& panels, BoardPoint bare_place) {
  const glm::dvec2 p = bare_place.mm;
  if (const auto crossing = nearestCrossing(panels, p)) return *crossing;
  if (const auto seam = nearestSeam(panels, p)) return *seam;
  if (const auto seam = seamOfWideSlit(panels, p)) return *seam;
  return nearestPanel(panels, p);
}

OwnerZone ownerZoneAt(const scene::PanelGrid& panels, BoardPoint bare_place) {
  const glm::dvec2 p = bare_place.mm;
  const int column = columnAt(panels, p.x);
  const int row = rowAt(panels, p.y);
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
