#pragma once
// The usual framings of people (half length, full length, ...) and the camera's place for each. The viewer
// offers them as buttons.

#include "engine/camera/camera.h"
#include "engine/plan/plan.h"

#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace petalproof::camera {

enum class Framing { headAndShoulders, halfLength, threeQuarter, fullLength };

// The picture reaches from a share of the tallest person's height (chest, hip, above the knee, the floor) up
// to free air above the head. Common practice, no source.
struct FramingFacts {
  Framing framing;
  std::string_view name;  // "head and shoulders"
  double from_height;     // lowest part of the body in the picture, share of the height
  double air_above;       // share of the picture's height
  double air_below;
};
std::span<const FramingFacts> allFramings();

// Breadth that a person takes side by side: 19 in (common practice, no source), as in roomForPeople().
constexpr double person_breadth_mm = 482.6;

// `count` people, 1 or more, side by side. Their middle, their distance from the board (the mean) and their
// heights (in turn) are those of the shot's people; without people, the wall's middle, 48 in and 66 in
// (assumptions).
std::vector<plan::Person> peopleSideBySide(const plan::Shot& shot, int count, const WallFrame& wall);

// The shot with its camera, held level, moved along the line from the middle of its people: to where the
// tallest person fills the picture's height as the framing says, or to where all people fill its breadth with
// a twentieth free on both sides, whichever is farther. A zoom counts as its short end. A shot without people
// gets one person. The focus returns to the nearest eyes. Nothing if the shot's camera can't be made.
std::optional<plan::Shot> framedFor(const plan::Shot& shot, Framing framing, const WallFrame& wall);

}  // namespace petalproof::camera
