#include "engine/camera/projection.h"

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::camera {
namespace {

// Homogeneous pixel from camera frame; the third component is the distance along the lens axis.
glm::dmat3 pixelFromCamera(const Camera& camera) {
  const double u0 = camera.width_px / 2.0;
  const double v0 = camera.height_px / 2.0;
  return {{camera.focal_px, 0, 0}, {0, -camera.focal_px, 0}, {-u0, -v0, -1}};
}

// Directions (not of unit length) in the camera frame, one unit down the lens axis.
glm::dmat3 cameraDirectionFromPixel(const Camera& camera) {
  const double f = camera.focal_px;
  return {{1 / f, 0, 0}, {0, -1 / f, 0}, {-camera.width_px / 2.0 / f, camera.height_px / 2.0 / f, -1}};
}

double fullAngle(double side_px, double focal_px) { return degrees(2 * std::atan(side_px / 2 / focal_px)); }

}  // namespace

Camera scaledTo(const Camera& camera, int width_px) {
  const double scale = static_cast<double>(width_px) / camera.width_px;
  Camera scaled = camera;
  scaled.width_px = width_px;
  scaled.height_px = std::max(1, static_cast<int>(std::lround(camera.height_px * scale)));
  scaled.focal_px = camera.focal_px * scale;
  scaled.pixel_pitch_mm = camera.pixel_pitch_mm / scale;
  return scaled;
}

double axisDistanceMm(const Camera& camera, WallPoint point) {
  return -(camera.cameraFromWall * (point.mm - camera.position.mm)).z;
}

std::optional<PixelPoint> project(const Camera& camera, WallPoint point) {
  const glm::dvec3 p = camera.cameraFromWall * (point.mm - camera.position.mm);
  if (!(p.z < 0)) return std::nullopt;
  return PixelPoint{{camera.width_px / 2.0 + camera.focal_px * p.x / -p.z,
                     camera.height_px / 2.0 - camera.focal_px * p.y / -p.z}};
}

glm::dvec3 rayDirection(const Camera& camera, PixelPoint pixel) {
  const glm::dvec3 direction = cameraDirectionFromPixel(camera) * glm::dvec3(pixel.px, 1);
  return glm::normalize(glm::transpose(camera.cameraFromWall) * direction);
}

std::optional<BoardPoint> boardPointOf(const Camera& camera, PixelPoint pixel) {
  const glm::dvec3 h = boardFromPixel(camera) * glm::dvec3(pixel.px, 1);
  if (!(h.z > 0)) return std::nullopt;
  return BoardPoint{glm::dvec2(h) / h.z};
}

// A ray position + t * d meets z = 0 at t = position.z / -d.z; times -d.z this is linear in d.
glm::dmat3 boardFromPixel(const Camera& camera) {
  const glm::dvec3 c = camera.position.mm;
  const glm::dmat3 boardFromDirection({c.z, 0, 0}, {0, c.z, 0}, {-c.x, -c.y, -1});
  return boardFromDirection * glm::transpose(camera.cameraFromWall) * cameraDirectionFromPixel(camera);
}

glm::dmat3 pixelFromBoard(const Camera& camera) {
  const glm::dvec3 c = camera.position.mm;
  const glm::dmat3 offsetFromBoard({1, 0, 0}, {0, 1, 0}, {-c.x, -c.y, -c.z});
  return pixelFromCamera(camera) * camera.cameraFromWall * offsetFromBoard;
}

FieldOfView fieldOfView(const Camera& camera) {
  const double diagonal_px = std::hypot(camera.width_px, camera.height_px);
  return {fullAngle(camera.width_px, camera.focal_px), fullAngle(camera.height_px, camera.focal_px),
          fullAngle(diagonal_px, camera.focal_px)};
}

}  // namespace petalproof::camera
