#pragma once
// What drawing needs of a camera: where on the picture a place of the wall frame lies.
//
//   clip space  OpenGL's: x right, y up, -w to w; depth -w (near) to w (far)
//   picture     pixels as in engine/base/frames.h; the first row that OpenGL keeps is the picture's last

#include "engine/base/frames.h"
#include "engine/camera/camera.h"
#include "engine/scene/scene.h"

#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec4.hpp>

namespace petalproof::gl {

struct View {
  glm::mat4 clipFromWall{1.0F};
  // Homogeneous: a place in mm (w = 1), or the direction towards an eye that is endlessly far (w = 0).
  glm::vec4 eye{0, 0, 1, 0};
  int width_px = 0;
  int height_px = 0;
  float near_mm = 1;  // of the depths kept, along the lens axis; 0 of both where rays are parallel
  float far_mm = 2;
};

// The shot's picture exactly: same frame, same pixels. Shows what is at least 50 mm from the camera.
View viewOf(const camera::Camera& camera, const scene::PanelGrid& panels);

// Head-on with parallel rays: `frame` of the board plane fills the picture.
View headOnView(const BoardRect& frame, int width_px, int height_px);

// Looks from `eye`, turned `right_deg` to the right of straight at the wall and `up_deg` upwards, -85 to 85.
camera::Camera eyeCamera(WallPoint eye, double right_deg, double up_deg, double across_deg, int width_px,
                         int height_px);

// A rectangle of the picture as a picture of its own; `left_px`, `top_px`: its upper left pixel.
View partOf(const View& view, int left_px, int top_px, int width_px, int height_px);

// The same picture in fewer pixels: its sides by a share, 0 to 1; at least one pixel each.
View smaller(const View& view, double share);
// What of its sides a picture keeps while it moves, so that it has no more than two million pixels: nobody
// sees single ones of 4K then, and drawing takes a quarter.
double shareInMotion(const View& view);

}  // namespace petalproof::gl
