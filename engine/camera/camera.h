#pragma once
// Makes a shot's camera: sensor, lens, crop and pose of the plan become a pinhole camera with square pixels.
// The check, the pictures and the viewer make their cameras here; engine/camera/projection.h projects with
// them.
//
//   camera frame  x right, y up, looks down -z; never rolled: x is level.
//   picture       the cropped picture; pixels as in engine/base/frames.h; the lens axis meets the picture
//                 in its middle (width / 2, height / 2).
//   projection    u = width / 2 + focal_px * x / -z,  v = height / 2 - focal_px * y / -z

#include "engine/base/frames.h"
#include "engine/base/problem.h"
#include "engine/camera/wall_frame.h"
#include "engine/plan/plan.h"

#include <vector>

namespace petalproof::camera {

struct Camera {
  WallPoint position;
  // Rotation: a point p of the wall frame is at cameraFromWall * (p - position) in the camera frame.
  glm::dmat3 cameraFromWall{1.0};
  double focal_px = 0;
  int width_px = 0;  // of the cropped picture
  int height_px = 0;
  double focal_mm = 0;        // the real lens; a full-frame equivalent is turned into it
  double pixel_pitch_mm = 0;  // on the sensor
  double focus_mm = 0;        // distance along the lens axis that is sharp
  double f_number = 5.6;
  double sensor_diagonal_mm = 0;  // of the whole sensor, uncropped
};

// The places in the plan's file that problems of a shot's camera name; empty for a shot without a file.
struct ShotPlaces {
  Place shot;
  Place camera;
  Place aim;
  Place focus = {};  // the shot's place if the shot has no `focus`
};

// Makes the camera of a shot. A zoom counts as its short end (zoomEnds in engine/camera/lens.h gives both). A
// shot without a focus is focused on the nearest eyes in front of the camera that the lens can focus on, else
// on the board at the picture's centre. Problems: the camera on or behind the board; the aim at the camera;
// numbers that are not finite or, for sensor, lens, aperture, focus and megapixels, not above 0; a focus
// within the focal length.
Result<Camera> makeCamera(const plan::Shot& shot, const WallFrame& wall, const ShotPlaces& places = {});

// The point between the eyes of each of the shot's people, in their order.
std::vector<WallPoint> eyesOf(const plan::Shot& shot, const WallFrame& wall);

}  // namespace petalproof::camera
