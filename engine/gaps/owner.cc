#include "engine/gaps/owner.h"

#include "engine/plan/plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace petalproof::gaps {
namespace {

// Distances that differ by less are a tie.
constexpr double tie_mm = 1e-9;
struct CellRange {
  int first_column, last_column;
  int first_row, last_row;
};

// Cells whose panel, right or lower seam may be within `reach` of a place.
CellRange cellsAround(const scene::PanelGrid& panels, glm::dvec2 p, double reach) {
  const double wide = reach + panels.seam_mm;
  return {panels.columnAt(p.x - wide), panels.columnAt(p.x + wide), panels.rowAt(p.y + wide),
          panels.rowAt(p.y - wide)};
}

double outside(double value, double low, double high) { return std::max({low - value, value - high, 0.0}); }

double distanceToUprightSeam(const scene::PanelGrid& panels, glm::dvec2 p, int column, int row) {
  const double top = panels.top_mm(row);
  return std::hypot(p.x - panels.slitRightOf_mm(column), outside(p.y, top - panels.panel_height_mm, top));
}

double distanceToLevelSeam(const scene::PanelGrid& panels, glm::dvec2 p, int column, int row) {
  const double left = panels.left_mm(column);
  return std::hypot(outside(p.x, left, left + panels.panel_width_mm), p.y - panels.slitBelow_mm(row));
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
    const double distance = std::hypot(p.x - panels.slitRightOf_mm(column), p.y - panels.slitBelow_mm(row));
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
  const int column = panels.columnAt(p.x);
  const int row = panels.rowAt(p.y);
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
  const int column = panels.columnAt(p.x);
  const int row = panels.rowAt(p.y);
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

}  // namespace petalproof::gaps
