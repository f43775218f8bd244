#include "engine/visibility/internal/board_cells.h"

#include "engine/camera/projection.h"

#include <glm/matrix.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace petalproof::visibility {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

// A column or row; whether a place in it lies in the slit after it (right of a column, below a row); and the
// limits of that panel or slit.
struct Along {
  int cell = 0;
  bool in_slit = false;
  double min_mm = 0;
  double max_mm = 0;
};

// Column c is [left_mm(c), left_mm(c + 1)): a panel's width, then a slit; the last has no slit.
Along columnAt(const scene::PanelGrid& panels, double x) {
  const double pitch = panels.panel_width_mm + panels.seam_mm;
  int c = std::clamp(static_cast<int>(x / pitch), 0, panels.columns - 1);
  while (c > 0 && x < panels.left_mm(c)) --c;
  while (c + 1 < panels.columns && x >= panels.left_mm(c + 1)) ++c;
  const double left = panels.left_mm(c);
  if (c + 1 == panels.columns) return {c, false, left, panels.width_mm()};
  const double next = panels.left_mm(c + 1);
  const double right = panels.seam_mm > 0 ? left + panels.panel_width_mm : next;
  return x < right ? Along{c, false, left, right} : Along{c, true, right, next};
}

// Row r is [top_mm(r + 1), top_mm(r)): a panel's height down from its top, then a slit; the last has none.
Along rowAt(const scene::PanelGrid& panels, double y) {
  const double pitch = panels.panel_height_mm + panels.seam_mm;
  int r = std::clamp(static_cast<int>((panels.height_mm() - y) / pitch), 0, panels.rows - 1);
  while (r > 0 && y >= panels.top_mm(r)) --r;
  while (r + 1 < panels.rows && y < panels.top_mm(r + 1)) ++r;
  const double top = panels.top_mm(r);
  if (r + 1 == panels.rows) return {r, false, 0, top};
  const double next = panels.top_mm(r + 1);
  const double bottom = panels.seam_mm > 0 ? top - panels.panel_height_mm : next;
  return y >= bottom ? Along{r, false, bottom, top} : Along{r, true, next, bottom};
}

int panelsAround(const scene::PanelGrid& panels, const Along& column, const Along& row) {
  int count = 0;
  for (int r = row.cell; r <= row.cell + (row.in_slit ? 1 : 0); ++r) {
    for (int c = column.cell; c <= column.cell + (column.in_slit ? 1 : 0); ++c) {
      count += panels.panelAt(c, r) ? 1 : 0;
    }
  }
  return count;
}

PixelId idOf(const scene::PanelGrid& panels, const Along& column, const Along& row) {
  const int around = panelsAround(panels, column, row);
  if (column.in_slit || row.in_slit) return {around >= 2 ? Sees::seam : Sees::behind, 0};
  if (around == 0) return {Sees::behind, 0};
  return {Sees::board, static_cast<std::uint32_t>(row.cell * panels.columns + column.cell)};
}

// The unbounded rectangle beyond the side of the outline where the place is; nothing for places on the wall.
std::optional<BoardRect> sideOff(const scene::PanelGrid& panels, glm::dvec2 place) {
  const glm::dvec2 low(-infinity);
  const glm::dvec2 high(infinity);
  if (place.x < 0) return BoardRect{low, {0, high.y}};
  if (place.x > panels.width_mm()) return BoardRect{{panels.width_mm(), low.y}, high};
  if (place.y < 0) return BoardRect{low, {high.x, 0}};
  if (place.y > panels.height_mm()) return BoardRect{{low.x, panels.height_mm()}, high};
  return std::nullopt;
}

}  // namespace

BoardCell boardCellAt(const scene::PanelGrid& panels, BoardPoint place) {
  const bool is_number = place.mm.x == place.mm.x && place.mm.y == place.mm.y;
  if (panels.columns < 1 || panels.rows < 1 || !is_number) return {};
  if (const auto side = sideOff(panels, place.mm)) return {PixelId{}, *side};
  const Along column = columnAt(panels, place.mm.x);
  const Along row = rowAt(panels, place.mm.y);
  return {idOf(panels, column, row), {{column.min_mm, row.min_mm}, {column.max_mm, row.max_mm}}};
}

BoardSight::BoardSight(const scene::PanelGrid& panels, const camera::Camera& camera)
    : panels_(panels), board_from_pixel_(camera::boardFromPixel(camera)) {
  // A ray that goes 1 along the lens axis goes down in z by -(wallFromCamera * ((u - cx) / f, (cy - v) / f,
  // -1)).z and the plane lies position.z below: their quotient is the inverse depth.
  const glm::dmat3 wallFromCamera = glm::transpose(camera.cameraFromWall);
  const double z = camera.position.mm.z;
  depth_per_x_ = -wallFromCamera[0].z / camera.focal_px / z;
  depth_per_y_ = wallFromCamera[1].z / camera.focal_px / z;
  depth_at_origin_ =
      wallFromCamera[2].z / z - depth_per_x_ * camera.width_px / 2 - depth_per_y_ * camera.height_px / 2;
}

// Computed as boardPointOf does.
std::optional<BoardPoint> BoardSight::placeOf(int x, int y) const {
  const glm::dvec3 h = board_from_pixel_ * glm::dvec3(x + 0.5, y + 0.5, 1);
  if (!(h.z > 0)) return std::nullopt;
  return BoardPoint{glm::dvec2(h) / h.z};
}

PixelId BoardSight::idOf(int x, int y) const {
  const auto place = placeOf(x, y);
  return place ? boardCellAt(panels_, *place).id : PixelId{};
}

std::optional<PixelId> BoardSight::cellBetween(const std::optional<BoardPoint>& a,
                                               const std::optional<BoardPoint>& b) const {
  // The plane's horizon is a line: between two pixels beyond it there is none before it.
  if (!a && !b) return PixelId{};
  if (!a || !b) return std::nullopt;
  // Far more than rounding can move a place: no pixel between the two can be decided otherwise.
  constexpr double margin_mm = 1e-3;
  const BoardCell cell = boardCellAt(panels_, *a);
  const auto inside = [&cell](glm::dvec2 place) {
    return place.x > cell.rect.min_mm.x + margin_mm && place.x < cell.rect.max_mm.x - margin_mm &&
           place.y > cell.rect.min_mm.y + margin_mm && place.y < cell.rect.max_mm.y - margin_mm;
  };
  if (!inside(a->mm) || !inside(b->mm)) return std::nullopt;
  return cell.id;
}

std::optional<PixelId> BoardSight::cellOver(int x0, int y0, int x1, int y1) const {
  const auto corner = placeOf(x0, y0);
  const auto cell = cellBetween(corner, placeOf(x1 - 1, y0));
  if (!cell || !cellBetween(corner, placeOf(x0, y1 - 1)) || !cellBetween(corner, placeOf(x1 - 1, y1 - 1))) {
    return std::nullopt;
  }
  return cell;
}

void BoardSight::idsOfRow(int x0, int y, std::span<PixelId> ids) const {
  const int count = static_cast<int>(ids.size());
  constexpr int few = 4;  // decided pixel by pixel: ends and halves would cost as much
  if (count <= few) {
    for (int k = 0; k < count; ++k) ids[static_cast<std::size_t>(k)] = idOf(x0 + k, y);
    return;
  }
  if (const auto cell = cellBetween(placeOf(x0, y), placeOf(x0 + count - 1, y))) {
    std::fill(ids.begin(), ids.end(), *cell);
    return;
  }
  const std::size_t half = ids.size() / 2;
  idsOfRow(x0, y, ids.first(half));
  idsOfRow(x0 + static_cast<int>(half), y, ids.subspan(half));
}

void BoardSight::inverseDepthsOfRow(int x0, int y, std::span<float> inverse_depths) const {
  const double start = depth_at_origin_ + depth_per_y_ * (y + 0.5) + depth_per_x_ * (x0 + 0.5);
  for (std::size_t k = 0; k < inverse_depths.size(); ++k) {
    inverse_depths[k] = static_cast<float>(std::max(0.0, start + depth_per_x_ * static_cast<double>(k)));
  }
}

}  // namespace petalproof::visibility
