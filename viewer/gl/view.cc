#include "viewer/gl/view.h"

#include "engine/base/units.h"
#include "engine/camera/projection.h"

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::gl {
namespace {

constexpr double nearest_mm = 50;  // no bloom is nearer to a lens; a smaller value makes depths coarser
// The room reaches this far beyond the wall's farthest corner: its back wall, its floor.
constexpr double room_reach_mm = 12000;
// Head-on views show places up to this far before and behind the board plane.
constexpr double head_on_reach_mm = 5000;

// The farthest depth: of the wall's farthest corner along the lens axis and of the room beyond it.
double farthestMm(const camera::Camera& camera, const scene::PanelGrid& panels) {
  double farthest = 0;
  for (const double x : {0.0, panels.width_mm()})
    for (const double y : {-panels.above_floor_mm, panels.height_mm()})
      farthest = std::max(farthest, camera::axisDistanceMm(camera, {{x, y, 0}}));
  return std::max(farthest, 2 * nearest_mm) + room_reach_mm;
}

glm::dmat4 wallAffine(const camera::Camera& camera) {
  const glm::dmat3& turn = camera.cameraFromWall;
  glm::dmat4 cameraFromWall(turn);
  cameraFromWall[3] = glm::dvec4(-(turn * camera.position.mm), 1);
  return cameraFromWall;
}

}  // namespace

View viewOf(const camera::Camera& camera, const scene::PanelGrid& panels) {
  const double far = farthestMm(camera, panels);
  glm::dmat4 clipFromCamera(0.0);
  clipFromCamera[0][0] = 2 * camera.focal_px / camera.width_px;
  clipFromCamera[1][1] = 2 * camera.focal_px / camera.height_px;
  clipFromCamera[2][2] = -(far + nearest_mm) / (far - nearest_mm);
  clipFromCamera[2][3] = -1;
  clipFromCamera[3][2] = -2 * far * nearest_mm / (far - nearest_mm);
  View view;
  view.clipFromWall = glm::mat4(clipFromCamera * wallAffine(camera));
  view.eye = glm::vec4(glm::vec3(camera.position.mm), 1);
  view.width_px = camera.width_px;
  view.height_px = camera.height_px;
  view.near_mm = static_cast<float>(nearest_mm);
  view.far_mm = static_cast<float>(far);
  return view;
}

View headOnView(const BoardRect& frame, int width_px, int height_px) {
  const glm::dvec2 size = frame.max_mm - frame.min_mm;
  const glm::dvec2 middle = (frame.max_mm + frame.min_mm) / 2.0;
  glm::dmat4 clipFromWall(1.0);
  clipFromWall[0][0] = 2 / size.x;
  clipFromWall[1][1] = 2 / size.y;
  clipFromWall[2][2] = -1 / head_on_reach_mm;
  clipFromWall[3] = glm::dvec4(-2 * middle.x / size.x, -2 * middle.y / size.y, 0, 1);
  View view;
  view.clipFromWall = glm::mat4(clipFromWall);
  view.width_px = width_px;
  view.height_px = height_px;
  view.near_mm = view.far_mm = 0;
  return view;
}

camera::Camera eyeCamera(WallPoint eye, double right_deg, double up_deg, double across_deg, int width_px,
                         int height_px) {
  const double right = radians(right_deg);
  constexpr double steepest_deg = 85;  // straight up, the direction of "right" would be lost
  const double up = radians(std::clamp(up_deg, -steepest_deg, steepest_deg));
  const glm::dvec3 forward(std::sin(right) * std::cos(up), std::sin(up), -std::cos(right) * std::cos(up));
  const glm::dvec3 side = glm::normalize(glm::cross(forward, glm::dvec3(0, 1, 0)));
  camera::Camera camera;
  camera.position = eye;
  camera.cameraFromWall = glm::transpose(glm::dmat3(side, glm::cross(side, forward), -forward));
  camera.width_px = width_px;
  camera.height_px = height_px;
  camera.focal_px = width_px / 2.0 / std::tan(radians(across_deg) / 2);
  camera.focal_mm = 1;
  return camera;
}

// The part's clip space is the whole picture's, scaled by the ratio of sizes and moved to the part's middle.
View partOf(const View& view, int left_px, int top_px, int width_px, int height_px) {
  const double across = static_cast<double>(view.width_px) / width_px;
  const double down = static_cast<double>(view.height_px) / height_px;
  glm::dmat4 partFromWhole(1.0);
  partFromWhole[0][0] = across;
  partFromWhole[1][1] = down;
  partFromWhole[3][0] = (view.width_px - 2.0 * left_px - width_px) / width_px;
  partFromWhole[3][1] = (2.0 * top_px + height_px - view.height_px) / height_px;
  View part = view;
  part.clipFromWall = glm::mat4(partFromWhole * glm::dmat4(view.clipFromWall));
  part.width_px = width_px;
  part.height_px = height_px;
  return part;
}

View smaller(const View& view, double share) {
  const auto side = [&](int pixels) { return std::max(1, static_cast<int>(std::lround(share * pixels))); };
  View small = view;
  small.width_px = side(view.width_px);
  small.height_px = side(view.height_px);
  return small;
}

double shareInMotion(const View& view) {
  constexpr double most_pixels = 1920.0 * 1080.0;  // a quarter of a 4K screen
  const double pixels = static_cast<double>(view.width_px) * view.height_px;
  return pixels <= most_pixels ? 1 : std::sqrt(most_pixels / pixels);
}

}  // namespace petalproof::gl
