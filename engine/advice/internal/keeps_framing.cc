#include "engine/advice/internal/keeps_framing.h"
#include "engine/camera/focus.h"
#include "engine/camera/framing.h"
#include "engine/camera/projection.h"
#include "engine/scene/person.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::advice {
namespace {

constexpr double farthest_head_move = 0.04;  // of the frame's shorter side
// Common practice, no source: a camera on the floor, a photographer on a step ladder, and room to focus.
constexpr double lowest_camera_mm = 300;
constexpr double highest_camera_mm = 2400;
constexpr double before_people_mm = 600;
constexpr double rounding_mm = 0.01;  // of lengths in the plan's unit
// Half the shoulders of a large man, as a share of his height (ANSUR II: Gordon et al., 2014: bideltoid
// breadth 567 of 1870 mm).
constexpr double half_shoulders = 0.152;

// A person in a picture, in shares of its shorter side from its middle.
struct Framed {
  glm::dvec2 eyes{0};
  double size = 0;  // crown to eyes
  bool wholly_in = false;
};

// Pixels of a point, as shares of the shorter side from the middle; nothing behind the camera.
std::optional<glm::dvec2> placeOf(const camera::Camera& camera, const glm::dvec3& point) {
  const auto pixel = camera::project(camera, {point});
  if (!pixel) return std::nullopt;
  return (pixel->px - glm::dvec2(camera.width_px, camera.height_px) / 2.0) /
         static_cast<double>(std::min(camera.width_px, camera.height_px));
}

bool isInFrame(const camera::Camera& camera, glm::dvec2 place) {
  const double shorter = std::min(camera.width_px, camera.height_px);
  return std::abs(place.x) <= camera.width_px / shorter / 2 &&
         std::abs(place.y) <= camera.height_px / shorter / 2;
}

std::optional<Framed> framed(const camera::Camera& camera, const plan::Person& person, const WallPoint& eyes,
                             const camera::WallFrame& wall) {
  const double height_mm = toMillimetres(person.height, wall.units);
  const glm::dvec3 crown = eyes.mm + glm::dvec3(0, (1 - scene::eye_height_share) * height_mm, 0);
  const glm::dvec3 aside(half_shoulders * height_mm, 0, 0);
  const glm::dvec3 feet(eyes.mm.x, -wall.above_floor_mm, eyes.mm.z);
  const auto at_eyes = placeOf(camera, eyes.mm);
  const auto at_crown = placeOf(camera, crown);
  if (!at_eyes || !at_crown) return std::nullopt;
  Framed found{*at_eyes, glm::distance(*at_eyes, *at_crown), true};
  for (const glm::dvec3& corner : {crown - aside, crown + aside, feet - aside, feet + aside}) {
    const auto place = placeOf(camera, corner);
    found.wholly_in = found.wholly_in && place && isInFrame(camera, *place);
  }
  return found;
}

bool isFramedAlike(const Framed& before, const Framed& after) {
  return glm::distance(before.eyes, after.eyes) <= farthest_head_move &&
         std::abs(after.size / before.size - 1) <= largest_size_change &&
         (after.wholly_in || !before.wholly_in);
}

bool keepsPeople(const plan::Shot& before, const camera::Camera& camera_before, const plan::Shot& after,
                 const camera::Camera& camera_after, const camera::WallFrame& wall) {
  const std::vector<WallPoint> eyes_before = camera::eyesOf(before, wall);
  const std::vector<WallPoint> eyes_after = camera::eyesOf(after, wall);
  for (std::size_t k = 0; k < before.people.size(); ++k) {
    const auto was = framed(camera_before, before.people[k], eyes_before[k], wall);
    if (!was || !isInFrame(camera_before, was->eyes)) continue;  // not in the picture anyway
    const auto is = framed(camera_after, after.people[k], eyes_after[k], wall);
    if (!is || !isFramedAlike(*was, *is)) return false;
  }
  return true;
}

bool keepsSharp(const camera::FocusOfShot& before, const camera::FocusOfShot& after) {
  return std::all_of(after.unsharp.begin(), after.unsharp.end(), [&](const camera::UnsharpEyes& eyes) {
    return std::any_of(before.unsharp.begin(), before.unsharp.end(),
                       [&](const camera::UnsharpEyes& was) { return was.person == eyes.person; });
  });
}

bool keepsSide(const std::optional<double>& before, const std::optional<double>& after) {
  return !before || (after && *after <= *before + rounding_mm);
}

bool keepsOnWall(const camera::OffWall& before, const camera::OffWall& after) {
  return keepsSide(before.left_mm, after.left_mm) && keepsSide(before.right_mm, after.right_mm) &&
         keepsSide(before.top_mm, after.top_mm) && keepsSide(before.bottom_mm, after.bottom_mm);
}

// The wall's frame, where nobody stands before it, keeps its size.
bool keepsWallSize(const camera::Camera& before, const camera::Camera& after) {
  const auto was = camera::boardDistanceMm(before);
  const auto is = camera::boardDistanceMm(after);
  return was && is && std::abs((after.focal_px / *is) / (before.focal_px / *was) - 1) <= largest_size_change;
}

bool canStand(const plan::Shot& before, const plan::Shot& after, const ShotLimits& limits) {
  const auto mm = [&](Length length) { return toMillimetres(length, limits.wall.units); };
  const double height = mm(after.camera_above_floor);
  const double height_before = mm(before.camera_above_floor);
  if (height < std::min(lowest_camera_mm, height_before) ||
      height > std::max(highest_camera_mm, height_before))
    return false;
  if (limits.room.depth && after.camera_out > std::max(*limits.room.depth, before.camera_out)) return false;
  return std::all_of(after.people.begin(), after.people.end(), [&](const plan::Person& person) {
    return mm(person.out_from_board) + before_people_mm <= mm(after.camera_out);
  });
}

bool keepsFramingOfEnd(const plan::Shot& before, const plan::Shot& after, const ShotLimits& limits) {
  const auto camera_before = camera::makeCamera(before, limits.wall);
  const auto camera_after = camera::makeCamera(after, limits.wall);
  if (!camera_before || !camera_after) return false;
  const camera::Camera& was = *camera_before.value;
  const camera::Camera& is = *camera_after.value;
  if (!keepsOnWall(camera::offWall(was, limits.wall), camera::offWall(is, limits.wall))) return false;
  if (before.people.empty()) return keepsWallSize(was, is);
  return keepsPeople(before, was, after, is, limits.wall) &&
         keepsSharp(camera::focusOf(was, before, limits.wall), camera::focusOf(is, after, limits.wall));
}

}  // namespace

bool keepsFraming(const plan::Shot& before, const plan::Shot& after, const ShotLimits& limits) {
  if (!canStand(before, after, limits)) return false;
  const std::vector<plan::Shot> ends_before = camera::zoomEnds(before);
  for (const plan::Shot& end : camera::zoomEnds(after)) {
    const auto same = std::find_if(ends_before.begin(), ends_before.end(),
                                   [&](const plan::Shot& each) { return each.lens == end.lens; });
    const plan::Shot& compared = same == ends_before.end() ? ends_before.front() : *same;
    if (!keepsFramingOfEnd(compared, end, limits)) return false;
  }
  return true;
}

}  // namespace petalproof::advice
