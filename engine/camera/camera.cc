#include "engine/camera/camera.h"

#include "engine/base/length_text.h"
#include "engine/camera/picture_size.h"
#include "engine/camera/projection.h"
#include "engine/scene/person.h"

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace petalproof::camera {
namespace {

// The full frame's diagonal, rounded as the trade does for `lens_equivalent`; exactly it is 43.267 mm.
constexpr double full_frame_diagonal_mm = 43.27;
// An aim nearer to the camera than this gives no direction of view.
constexpr double nearest_aim_mm = 1e-3;

// The wall point at these distances right of the wall's centre line, above the floor and out from the board.
WallPoint standingAt(Length right, Length above_floor, Length out, const WallFrame& wall) {
  return {{wall.width_mm / 2 + toMillimetres(right, wall.units),
           toMillimetres(above_floor, wall.units) - wall.above_floor_mm, toMillimetres(out, wall.units)}};
}

WallPoint positionOf(const plan::Shot& shot, const WallFrame& wall) {
  return standingAt(shot.camera_right, shot.camera_above_floor, shot.camera_out, wall);
}

WallPoint aimOf(const plan::Shot& shot, const WallFrame& wall) {
  return standingAt(shot.aim_right, shot.aim_above_floor, Length{0}, wall);
}

double focalLengthOf(const plan::Shot& shot) {
  if (!shot.lens.full_frame_equivalent) return shot.lens.mm;
  return shot.lens.mm * std::hypot(shot.sensor.width_mm, shot.sensor.height_mm) / full_frame_diagonal_mm;
}

bool isFinite(const WallPoint& p) {
  return std::isfinite(p.mm.x) && std::isfinite(p.mm.y) && std::isfinite(p.mm.z);
}

bool isPositive(double number) { return std::isfinite(number) && number > 0; }

std::vector<Problem> opticsProblems(const plan::Shot& shot, const ShotPlaces& places) {
  std::vector<Problem> problems;
  const auto need = [&](bool holds, const char* message) {
    if (!holds) problems.push_back({places.shot, message});
  };
  need(isPositive(shot.sensor.width_mm) && isPositive(shot.sensor.height_mm),
       "the sensor's sides must be finite and above 0");
  need(isPositive(shot.lens.mm), "the lens must be a finite number of mm above 0");
  need(isPositive(shot.aperture), "the aperture must be a finite f-number above 0");
  need(isPositive(shot.megapixels), "megapixels must be finite and above 0");
  need(!shot.focus || isPositive(shot.focus->value), "focus must be a finite distance above 0");
  need(!shot.crop || (isPositive(shot.crop->width) && isPositive(shot.crop->height)),
       "the crop's sides must be finite and above 0");
  return problems;
}

std::vector<Problem> poseProblems(const WallPoint& position, const WallPoint& aim, const ShotPlaces& places) {
  std::vector<Problem> problems;
  if (!isFinite(position)) problems.push_back({places.camera, "the camera's place must be finite numbers"});
  if (!isFinite(aim)) problems.push_back({places.aim, "the aim must be finite numbers"});
  if (!problems.empty()) return problems;
  if (glm::distance(position.mm, aim.mm) < nearest_aim_mm)
    problems.push_back({places.aim, "the camera stands at the very place it aims at; move one of them"});
  else if (position.mm.z <= 0)
    problems.push_back(
        {places.camera, std::string("the camera stands ") + (position.mm.z < 0 ? "behind" : "on") +
                            " the board; its third number, out from the board, must be above 0"});
  return problems;
}

// Level: x of the camera frame stays parallel to the floor. The direction is never vertical, since the
// camera is in front of the board and the aim on it.
glm::dmat3 levelCameraFromWall(const glm::dvec3& forward) {
  const glm::dvec3 right = glm::normalize(glm::cross(forward, glm::dvec3(0, 1, 0)));
  const glm::dvec3 up = glm::cross(right, forward);
  return glm::transpose(glm::dmat3(right, up, -forward));
}

// The distance to the nearest eyes that the lens can focus on, else to the board at the picture's centre.
double defaultFocus(const plan::Shot& shot, const Camera& camera, const WallFrame& wall, double to_aim_mm) {
  std::optional<double> nearest;
  for (const WallPoint& eyes : eyesOf(shot, wall)) {
    const double distance = axisDistanceMm(camera, eyes);
    if (distance > camera.focal_mm) nearest = std::min(nearest.value_or(distance), distance);
  }
  return nearest.value_or(to_aim_mm);
}

// A thin lens forms no picture of an object within its focal length.
std::optional<Problem> focusProblem(const Camera& camera, const plan::Shot& shot, const WallFrame& wall,
                                    const ShotPlaces& places) {
  if (camera.focus_mm > camera.focal_mm) return std::nullopt;
  const std::string distance = tapeText(camera.focus_mm, wall.units);
  const std::string tail =
      fmt::format("no lens is sharp within its focal length, here {:.4g} mm", camera.focal_mm);
  if (shot.focus) return Problem{places.focus, fmt::format("\"focus\" is {}; {}", distance, tail)};
  return Problem{places.camera, fmt::format("the camera stands {} from the wall; {}", distance, tail)};
}

}  // namespace

std::vector<WallPoint> eyesOf(const plan::Shot& shot, const WallFrame& wall) {
  std::vector<WallPoint> eyes;
  for (const plan::Person& person : shot.people) {
    const Length eye_height{scene::eye_height_share * person.height.value};
    eyes.push_back(standingAt(person.right_of_centre, eye_height, person.out_from_board, wall));
    eyes.back().mm.z += scene::eyes_in_front_mm;
  }
  return eyes;
}

Result<Camera> makeCamera(const plan::Shot& shot, const WallFrame& wall, const ShotPlaces& places) {
  const WallPoint position = positionOf(shot, wall);
  const WallPoint aim = aimOf(shot, wall);
  std::vector<Problem> problems = opticsProblems(shot, places);
  for (Problem& problem : poseProblems(position, aim, places)) problems.push_back(std::move(problem));
  if (!problems.empty()) return Result<Camera>::failure(std::move(problems));

  const PictureSize size = pictureSizeOf(shot);
  const double to_aim_mm = glm::distance(position.mm, aim.mm);
  Camera camera;
  camera.position = position;
  camera.cameraFromWall = levelCameraFromWall((aim.mm - position.mm) / to_aim_mm);
  camera.width_px = size.width;
  camera.height_px = size.height;
  camera.focal_mm = focalLengthOf(shot);
  camera.pixel_pitch_mm = shot.sensor.width_mm / (shot.upright ? size.full_height : size.full_width);
  camera.focal_px = camera.focal_mm / camera.pixel_pitch_mm;
  camera.f_number = shot.aperture;
  camera.sensor_diagonal_mm = std::hypot(shot.sensor.width_mm, shot.sensor.height_mm);
  camera.focus_mm =
      shot.focus ? toMillimetres(*shot.focus, wall.units) : defaultFocus(shot, camera, wall, to_aim_mm);
  if (auto problem = focusProblem(camera, shot, wall, places))
    return Result<Camera>::failure({std::move(*problem)});
  return Result<Camera>::success(camera);
}

}  // namespace petalproof::camera
