#pragma once
// A view: the part of a camera that drawing needs, which projects places of the wall frame into a picture.
// Made from a shot's camera, from the walking eye or head-on, and passed to everything that draws.
//
//   clip space  OpenGL's: x right, y up, -w to w; depth -w (near) to w (far)
//   picture     pixels as in engine/base/frames.h; OpenGL's first row is the picture's last

#include "engine/base/frames.h"
#include "engine/camera/camera.h"
#include "engine/scene/scene.h"

#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec4.hpp>

namespace petalproof::gl {

struct View {
  glm::mat4 clipFromWall{1.0F};
  // Homogeneous: a place in mm (w = 1), or the direction towards an eye at infinity (w = 0).
  glm::vec4 eye{0, 0, 1, 0};
  int width_px = 0;
  int height_px = 0;
  float near_mm = 1;  // the range of depths along the lens axis; both 0 where rays are parallel
  float far_mm = 2;
};

// The view of a shot's picture: same frame, same pixels. Nothing nearer to the camera than 50 mm is drawn.
View viewOf(const camera::Camera& camera, const scene::PanelGrid& panels);

// Head-on with parallel rays: `frame` of the board plane fills the picture.
View headOnView(const BoardRect& frame, int width_px, int height_px);

// A camera at `eye`, turned from straight at the wall by `right_deg` to the right and by `up_deg`, -85 to 85,
// upwards. `across_deg`: the width of the field of view.
camera::Camera eyeCamera(WallPoint eye, double right_deg, double up_deg, double across_deg, int width_px,
                         int height_px);

// The view of a rectangle of the picture; `left_px`, `top_px`: its upper left pixel.
View partOf(const View& view, int left_px, int top_px, int width_px, int height_px);

// The same view in fewer pixels: both sides times `share`, 0 to 1, at least a pixel each.
View smaller(const View& view, double share);
// The share for smaller() while the picture moves: keeps it at two million pixels. Nobody sees single pixels
// of a 4K screen in motion, and drawing takes a quarter of the time.
double shareInMotion(const View& view);

}  // namespace petalproof::gl
