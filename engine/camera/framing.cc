#include "engine/camera/framing.h"

#include "engine/camera/projection.h"

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace petalproof::camera {
namespace {

// Where people stand if a shot has none: an assumption, 48 in.
constexpr double usual_distance_mm = 48 * 25.4;
// Breadth that a person takes, side by side and staggered: common practice, no source.
constexpr double side_by_side_mm = 19 * 25.4;
constexpr double staggered_mm = 15 * 25.4;
// Shrinks a remedy a little, so that rounding can't leave the frame outside the wall.
constexpr double inside = 1 - 1e-9;
// Room that rounding makes just too narrow still counts.
constexpr double room_rounding = 1e-9;

// The frame's corners in pixels, around it: top left, top right, bottom right, bottom left.
std::array<glm::dvec3, 4> frameCorners(const Camera& camera) {
  const double w = camera.width_px;
  const double h = camera.height_px;
  return {glm::dvec3(0, 0, 1), glm::dvec3(w, 0, 1), glm::dvec3(w, h, 1), glm::dvec3(0, h, 1)};
}

using Corners = std::array<std::optional<glm::dvec2>, 4>;

// The points at which the corners' rays meet the plane z = `out_mm`; nothing for a ray that never meets it.
Corners cornersAt(const Camera& camera, double out_mm) {
  Camera shifted = camera;
  shifted.position.mm.z -= out_mm;
  const glm::dmat3 planeFromPixel = boardFromPixel(shifted);
  Corners met;
  const auto corners = frameCorners(camera);
  for (std::size_t k = 0; k < corners.size(); ++k) {
    const glm::dvec3 h = planeFromPixel * corners[k];
    if (h.z > 0) met[k] = glm::dvec2(h) / h.z;
  }
  return met;
}

// How far a side with corners a and b reaches beyond `edge` along `outwards`.
std::optional<double> reach(const std::optional<glm::dvec2>& a, const std::optional<glm::dvec2>& b,
                            glm::dvec2 outwards, double edge) {
  if (!a || !b) return std::nullopt;
  const double farthest =
      std::max(outwards.x * a->x + outwards.y * a->y, outwards.x * b->x + outwards.y * b->y);
  return std::max(0.0, farthest - edge);
}

bool isInside(const Camera& camera, const WallFrame& wall) { return !offWall(camera, wall).any(); }

// How far a homogeneous point lies inside each of the wall's four edges, times the point's weight.
std::array<double, 4> insideEdges(const glm::dvec3& h, const WallFrame& wall) {
  return {h.x, wall.width_mm * h.z - h.x, h.y, wall.height_mm * h.z - h.y};
}

// The largest scale, up to 1, at which the picture shrunk about its middle lies inside the wall; 0 if its
// middle lies outside.
double largestShareInside(const Camera& camera, const WallFrame& wall) {
  const glm::dmat3 board = boardFromPixel(camera);
  const glm::dvec3 middle_px(camera.width_px / 2.0, camera.height_px / 2.0, 1);
  const std::array<double, 4> middle = insideEdges(board * middle_px, wall);
  double share = 1;
  for (const glm::dvec3& corner_px : frameCorners(camera)) {
    const std::array<double, 4> corner = insideEdges(board * corner_px, wall);
    for (std::size_t k = 0; k < 4; ++k) {
      if (middle[k] <= 0) return 0;
      if (corner[k] < 0) share = std::min(share, middle[k] / (middle[k] - corner[k]));
    }
  }
  return share;
}

std::optional<double> longerLens(const plan::Shot& shot, const Camera& camera, const WallFrame& wall) {
  const double share = largestShareInside(camera, wall);
  if (share <= 0) return std::nullopt;
  Camera longer = camera;
  longer.focal_px = camera.focal_px / (share * inside);
  const bool focuses = camera.focal_mm / share < camera.focus_mm;
  if (!isInside(longer, wall) || !focuses) return std::nullopt;
  return shot.lens.mm / (share * inside);
}

// The frame on the board scales about the aim with the camera's distance from the aim: the largest such
// scale, up to 1, at which the frame lies inside the wall.
double largestScaleInside(const Corners& frame, glm::dvec2 aim, const WallFrame& wall) {
  double scale = 1;
  for (const auto& corner : frame) {
    if (!corner) return 0;
    const glm::dvec2 offset = *corner - aim;
    if (offset.x < 0) scale = std::min(scale, aim.x / -offset.x);
    if (offset.x > 0) scale = std::min(scale, (wall.width_mm - aim.x) / offset.x);
    if (offset.y < 0) scale = std::min(scale, aim.y / -offset.y);
    if (offset.y > 0) scale = std::min(scale, (wall.height_mm - aim.y) / offset.y);
  }
  return scale;
}

bool isInFrontOfPeople(double camera_out_mm, const plan::Shot& shot, const WallFrame& wall) {
  return std::all_of(shot.people.begin(), shot.people.end(), [&](const plan::Person& person) {
    return toMillimetres(person.out_from_board, wall.units) < camera_out_mm;
  });
}

std::optional<double> nearerCamera(const plan::Shot& shot, const Camera& camera, const WallFrame& wall) {
  const auto middle = boardPointOf(camera, {{camera.width_px / 2.0, camera.height_px / 2.0}});
  if (!middle) return std::nullopt;
  const double scale = largestScaleInside(cornersAt(camera, 0), middle->mm, wall) * inside;
  if (scale <= 0) return std::nullopt;
  Camera nearer = camera;
  const glm::dvec3 aim(middle->mm, 0);
  nearer.position.mm = aim + (camera.position.mm - aim) * scale;
  const bool focuses = glm::distance(nearer.position.mm, aim) > camera.focal_mm;
  if (!isInside(nearer, wall) || !focuses || !isInFrontOfPeople(nearer.position.mm.z, shot, wall))
    return std::nullopt;
  return nearer.position.mm.z;
}

double peopleDistance(const plan::Shot& shot, const WallFrame& wall) {
  if (shot.people.empty()) return usual_distance_mm;
  double sum = 0;
  for (const plan::Person& person : shot.people) sum += toMillimetres(person.out_from_board, wall.units);
  return sum / static_cast<double>(shot.people.size());
}

struct Strip {
  double left_mm;
  double right_mm;
};

// The strip of the plane `out_mm` before the board that the camera sees against the wall's outline.
Strip stripBeforeOutline(const Camera& camera, double out_mm, const WallFrame& wall) {
  const double nearness = out_mm / camera.position.mm.z;
  const double shift = camera.position.mm.x * nearness;
  return {shift, shift + wall.width_mm * (1 - nearness)};
}

void narrowToFrame(Strip& strip, const Corners& frame) {
  for (const auto& corner : {frame[0], frame[3]})
    if (corner) strip.left_mm = std::max(strip.left_mm, corner->x);
  for (const auto& corner : {frame[1], frame[2]})
    if (corner) strip.right_mm = std::min(strip.right_mm, corner->x);
}

int countIn(double width_mm, double each_mm) {
  const double count = std::floor(width_mm / each_mm + room_rounding);
  return static_cast<int>(std::min(count, static_cast<double>(std::numeric_limits<int>::max())));
}

}  // namespace

bool OffWall::any() const {
  const auto reaches = [](const std::optional<double>& side) { return !side || *side > 0; };
  return reaches(left_mm) || reaches(right_mm) || reaches(top_mm) || reaches(bottom_mm);
}

OffWall offWall(const Camera& camera, const WallFrame& wall) {
  const Corners frame = cornersAt(camera, 0);
  const auto& [top_left, top_right, bottom_right, bottom_left] = frame;
  return {reach(top_left, bottom_left, {-1, 0}, 0), reach(top_right, bottom_right, {1, 0}, wall.width_mm),
          reach(top_left, top_right, {0, 1}, wall.height_mm), reach(bottom_left, bottom_right, {0, -1}, 0)};
}

FramingRemedy remedyFor(const plan::Shot& shot, const WallFrame& wall) {
  const Result<Camera> camera = makeCamera(shot, wall);
  if (!camera || isInside(*camera.value, wall)) return {};
  return {nearerCamera(shot, *camera.value, wall), longerLens(shot, *camera.value, wall)};
}

RoomForPeople roomForPeople(const Camera& camera, const plan::Shot& shot, const WallFrame& wall) {
  RoomForPeople room;
  room.distance_from_board_mm = peopleDistance(shot, wall);
  if (room.distance_from_board_mm >= camera.position.mm.z) return room;
  Strip strip = stripBeforeOutline(camera, room.distance_from_board_mm, wall);
  narrowToFrame(strip, cornersAt(camera, room.distance_from_board_mm));
  room.width_mm = std::max(0.0, strip.right_mm - strip.left_mm);
  room.side_by_side = countIn(room.width_mm, side_by_side_mm);
  room.staggered = countIn(room.width_mm, staggered_mm);
  return room;
}

}  // namespace petalproof::camera
