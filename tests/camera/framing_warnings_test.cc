#include "engine/camera/framing_warnings.h"
#include "engine/camera/framing.h"
#include "tests/camera/example_shots.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::camera;

TEST_CASE("a wall out of the picture and a camera beyond the free floor are warned of") {
  const WallFrame wall = exampleWall();
  const auto warningsOf = [&](const Shot& shot, std::optional<double> depth) {
    Room room;
    if (depth) room.depth = Length{*depth};
    return framingWarnings(cameraOf(shot), shot, wall, room);
  };
  CHECK(warningsOf(headOn(3000), std::nullopt).empty());
  CHECK(warningsOf(headOn(3000), 3000).empty());
  const auto too_far = warningsOf(headOn(3810), 3000);
  REQUIRE(too_far.size() == 1);
  CHECK(too_far[0] ==
        "the camera stands 3.81 m out from the board, but the room has only 3.00 m of free floor");
  // The frame on the board is 2160 wide: just right of the wall, and just touching it.
  const double beside = 1500 + 1080;
  CHECK(warningsOf(shotFrom(beside + 1, 1400, 3000, beside + 1, 1400), std::nullopt) ==
        std::vector<std::string>{"the wall is wholly out of the picture"});
  CHECK(warningsOf(shotFrom(beside - 1, 1400, 3000, beside - 1, 1400), std::nullopt).empty());
  // The corners all miss the wall, which is still in the picture.
  CHECK(warningsOf(headOn(60000), std::nullopt).empty());
}
