#pragma once
// The usual ways to take people into a picture, and where the camera stands for each.

#include "engine/camera/camera.h"
#include "engine/plan/plan.h"

#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace petalproof::camera {

enum class Framing { headAndShoulders, halfLength, threeQuarter, fullLength };

// The picture reaches from a share of the tallest one's height up to some air above the head (common
// practice, no source: chest, hip, above the knee, the floor).
struct FramingFacts {
  Framing framing;
  std::string_view name;  // "head and shoulders"
  double from_height;     // lowest part of the body in the picture, share of the height
  double air_above;       // share of the picture's height
  double air_below;
};
std::span<const FramingFacts> allFramings();

// Side by side each takes 19 in (common practice, no source), as in roomForPeople().
constexpr double person_breadth_mm = 482.6;

// `count` people, 1 or more, side by side around the middle of those in the shot (or of the wall), as far
// from the board as they are (their mean; without people 48 in, an assumption), as high as they are in turn
// (without people 66 in).
std::vector<plan::Person> peopleSideBySide(const plan::Shot& shot, int count, const WallFrame& wall);

// The shot with its camera moved along the line from the middle of its people, held level, so that the
// tallest of them fill the height as the framing says, and all of them the breadth with a twentieth of it
// free on both sides: whichever takes the camera farther. Of a zoom by its short end. Without people it is
// framed for one. The focus goes back to the nearest eyes. Nothing where the shot's lens can't be.
std::optional<plan::Shot> framedFor(const plan::Shot& shot, Framing framing, const WallFrame& wall);

}  // namespace petalproof::camera
