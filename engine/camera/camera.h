#pragma once
// A shot's camera: sensor, lens, crop and pose become a pinhole camera with square pixels.
//
//   camera frame  x right, y up, looks down -z; never rolled: x is level.
//   picture       the cropped picture; pixels as in engine/base/frames.h; the lens axis meets it in
//                 its middle (width / 2, height / 2).
//   projection    u = width / 2 + focal_px * x / -z,  v = height / 2 - focal_px * y / -z

#include "engine/base/frames.h"
#include "engine/base/problem.h"
#include "engine/plan/plan.h"

#include <optional>
#include <vector>

namespace petalproof::camera {

struct Camera {
  WallPoint position;
  glm::dmat3 cameraFromWall{
      1.0};  // rotation; a point p of the wall frame is at cameraFromWall * (p - position)
  double focal_px = 0;
  int width_px = 0;  // of the cropped picture
  int height_px = 0;
  double focal_mm = 0;        // the real lens; a full-frame equivalent is turned into it
  double pixel_pitch_mm = 0;  // on the sensor
  double focus_mm = 0;        // distance along the lens axis that is sharp
  double f_number = 5.6;
  double sensor_diagonal_mm = 0;  // of the whole sensor, uncropped
};

// What a shot's numbers are measured against.
struct WallFrame {
  Units units = Units::inch;
  double width_mm = 0;  // outline
  double height_mm = 0;
  double above_floor_mm = 0;
};
WallFrame wallFrameOf(const plan::Plan& plan);

// Pixels of the full and of the cropped picture:
// W = round(sqrt(megapixels * 1e6 * w / h)), H = round(W * h / w); upright swaps them last; the crop is
// the largest of its shape, each side floored to the parity of the full side.
struct PictureSize {
  int full_width = 0;
  int full_height = 0;
  int width = 0;
  int height = 0;
};
PictureSize pictureSizeOf(const plan::Shot& shot);

// Where problems of a shot's camera point at; empty places where nobody knows them.
struct ShotPlaces {
  Place shot;
  Place camera;
  Place aim;
  Place focus = {};  // the shot's where it gives none
};

// A zoom counts as its short end (zoomEnds in engine/camera/lens.h gives both). Without a focus it is on the
// nearest eyes in front of the camera that the lens can be focused on, else on the board at the picture's
// centre. Problems: camera on or behind the board, aim at the camera, numbers that are not finite or, for
// sensor, lens, aperture, focus and megapixels, not above 0; a focus no farther than the focal length.
Result<Camera> makeCamera(const plan::Shot& shot, const WallFrame& wall, const ShotPlaces& places = {});

// The same camera with a picture `width_px` wide (same frame, other pixels): for pictures for people.
Camera scaledTo(const Camera& camera, int width_px);

// How far a point is from the camera along the lens axis; below 0 behind it.
double axisDistanceMm(const Camera& camera, WallPoint point);

// Between the eyes of each of the shot's people, in their order.
std::vector<WallPoint> eyesOf(const plan::Shot& shot, const WallFrame& wall);

// Nothing for a point on or behind the plane through the camera that is parallel to the sensor.
std::optional<PixelPoint> project(const Camera& camera, WallPoint point);

// Unit direction in the wall frame.
glm::dvec3 rayDirection(const Camera& camera, PixelPoint pixel);

// Where the pixel's ray meets z = 0; nothing where it never does.
std::optional<BoardPoint> boardPointOf(const Camera& camera, PixelPoint pixel);

// The homography of it: (x, y, w) = boardFromPixel * (u, v, 1); the ray meets the board plane at
// (x / w, y / w) exactly where w > 0.
glm::dmat3 boardFromPixel(const Camera& camera);
// Inverse direction: (u, v, w) = pixelFromBoard * (x, y, 1); in front of the camera exactly where w > 0.
glm::dmat3 pixelFromBoard(const Camera& camera);

// Full angles of view of the cropped picture, in degrees.
struct FieldOfView {
  double across_deg = 0;
  double down_deg = 0;
  double diagonal_deg = 0;
};
FieldOfView fieldOfView(const Camera& camera);

}  // namespace petalproof::camera
