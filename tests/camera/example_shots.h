#pragma once
// Shots and walls that the camera's tests share.

#include "engine/camera/camera.h"

#include <cmath>
#include <cstdint>
#include <random>

namespace petalproof {

// Numbers that are the same with every standard library.
class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(engine_() >> 11) * 0x1.0p-53);
  }
  // Evenly over the orders of magnitude.
  double magnitude(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }
  bool coin() { return (engine_() >> 63) != 0; }

 private:
  std::mt19937_64 engine_;
};

// Millimetres; 3000 x 2400, its lower edge 200 above the floor.
inline camera::WallFrame exampleWall() { return {Units::millimetre, 3000, 2400, 200}; }

// Full frame, 24 megapixels (6000 x 4000). Lengths in mm from the centre line, the floor and the board.
inline plan::Shot shotFrom(double right, double above_floor, double out, double aim_right,
                           double aim_above_floor, double lens_mm = 50) {
  plan::Shot shot;
  shot.name = "shot";
  shot.sensor = {"full frame", 36, 24};
  shot.lens = {lens_mm, false};
  shot.camera_right = {right};
  shot.camera_above_floor = {above_floor};
  shot.camera_out = {out};
  shot.aim_right = {aim_right};
  shot.aim_above_floor = {aim_above_floor};
  return shot;
}

// Level, facing the middle of the example wall.
inline plan::Shot headOn(double out, double lens_mm = 50) { return shotFrom(0, 1400, out, 0, 1400, lens_mm); }

inline camera::Camera cameraOf(const plan::Shot& shot, const camera::WallFrame& wall = exampleWall()) {
  return camera::makeCamera(shot, wall).value.value();
}

}  // namespace petalproof
