#pragma once
// How a shot's frame lies on the wall, what would keep it inside the wall, and how many people fit in front.
// The check, the advice and the viewer ask.

#include "engine/camera/camera.h"

#include <optional>

namespace petalproof::camera {

// How far the frame (the cropped corners) reaches beyond each edge of the wall on the board plane, which
// goes on below the floor, in mm; 0 where it doesn't; nothing where that side of the frame never meets
// the plane: one of its two corners looks past the plane's horizon, so it reaches endlessly far.
struct OffWall {
  std::optional<double> left_mm = 0;
  std::optional<double> right_mm = 0;
  std::optional<double> top_mm = 0;
  std::optional<double> bottom_mm = 0;
  bool any() const;
};
OffWall offWall(const Camera& camera, const WallFrame& wall);

// Two remedies, each of which alone keeps the frame inside the wall in the same direction of view: the camera
// moved along the lens axis towards its aim to this distance from the board, or this longer lens. Nothing
// where the remedy alone can't do it (aim beside the wall, camera no longer in front of the people, lens no
// longer able to focus), or where the frame is inside already.
struct FramingRemedy {
  std::optional<double> camera_out_mm;
  std::optional<double> lens_mm;  // full-frame equivalent if the shot gives its lens as such
};
FramingRemedy remedyFor(const plan::Shot& shot, const WallFrame& wall);

// How many people fit side by side, at the distance from the board where the shot's people stand (the
// mean; without people: 48 in, an assumption), before the outer edge is in the picture behind them:
// 19 in each side by side, 15 in each staggered (common practice, no source). Counted across the strip
// at that distance that the frame (where it is narrowest) and the wall's outline behind both leave free;
// none where the camera isn't in front of that strip.
struct RoomForPeople {
  double distance_from_board_mm = 0;
  double width_mm = 0;
  int side_by_side = 0;
  int staggered = 0;
};
RoomForPeople roomForPeople(const Camera& camera, const plan::Shot& shot, const WallFrame& wall);

}  // namespace petalproof::camera
