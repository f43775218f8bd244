#pragma once
// The cells of the board plane (panels, slits, outside), and which cell each pixel of a picture sees.
// VisibilityRenderer asks for the pixels that no bloom covers.

#include "engine/camera/camera.h"
#include "engine/scene/scene.h"
#include "engine/visibility/visibility_buffer.h"

#include <cstdint>
#include <optional>
#include <span>

namespace petalproof::visibility {

// A rectangle of the board plane that looks the same all over: a panel, a piece of a slit, or one of
// the four sides off the wall (with infinite limits).
struct BoardCell {
  PixelId id;
  BoardRect rect;
};
BoardCell boardCellAt(const scene::PanelGrid& panels, BoardPoint place);

// Tells which cell pixels see: for each pixel what boardPlaneAt says of its boardPointOf, for most pixels by
// asking for the two ends of a run only.
class BoardSight {
 public:
  BoardSight(const scene::PanelGrid& panels, const camera::Camera& camera);

  // The cell that all pixels of [x0, x1) x [y0, y1) see, where it is the same for all.
  std::optional<PixelId> cellOver(int x0, int y0, int x1, int y1) const;

  // Writes the cells that the pixels x0, x0 + 1, ... of row y see.
  void idsOfRow(int x0, int y, std::span<PixelId> ids) const;

  // 1 / distance along the lens axis of the board plane, 0 where a ray never meets it.
  void inverseDepthsOfRow(int x0, int y, std::span<float> inverse_depths) const;

 private:
  std::optional<BoardPoint> placeOf(int x, int y) const;
  PixelId idOf(int x, int y) const;
  // The cell that two pixels and all between them see, where both lie well inside the same cell.
  std::optional<PixelId> cellBetween(const std::optional<BoardPoint>& a,
                                     const std::optional<BoardPoint>& b) const;

  const scene::PanelGrid& panels_;
  glm::dmat3 board_from_pixel_;
  double depth_at_origin_ = 0;
  double depth_per_x_ = 0;
  double depth_per_y_ = 0;
};

}  // namespace petalproof::visibility
