#pragma once
// Projection with a shot's camera: from points of the wall to pixels of the picture and back to the board
// plane. Visibility, gaps, pictures and drawings call these functions.

#include "engine/base/frames.h"
#include "engine/camera/camera.h"

#include <optional>

namespace petalproof::camera {

// The same camera with a picture `width_px` wide: the same frame in other pixels, for pictures for people.
Camera scaledTo(const Camera& camera, int width_px);

// The distance of a point from the camera along the lens axis; negative behind the camera.
double axisDistanceMm(const Camera& camera, WallPoint point);

// The pixel at which the picture shows a point; nothing for a point on or behind the plane through the camera
// that is parallel to the sensor.
std::optional<PixelPoint> project(const Camera& camera, WallPoint point);

// The unit direction, in the wall frame, in which a pixel looks.
glm::dvec3 rayDirection(const Camera& camera, PixelPoint pixel);

// The point at which a pixel's ray meets the board plane z = 0; nothing if it never does.
std::optional<BoardPoint> boardPointOf(const Camera& camera, PixelPoint pixel);

// The same as a homography: (x, y, w) = boardFromPixel * (u, v, 1); the ray meets the board plane at
// (x / w, y / w) exactly where w > 0.
glm::dmat3 boardFromPixel(const Camera& camera);
// The inverse homography: (u, v, w) = pixelFromBoard * (x, y, 1); in front of the camera exactly where w > 0.
glm::dmat3 pixelFromBoard(const Camera& camera);

// Full angles of view of the cropped picture, in degrees.
struct FieldOfView {
  double across_deg = 0;
  double down_deg = 0;
  double diagonal_deg = 0;
};
FieldOfView fieldOfView(const Camera& camera);

}  // namespace petalproof::camera
