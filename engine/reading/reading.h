#pragma once
// Would anyone notice? Each gap of a shot against the same picture without it, as the eye sees both, and
// against what the wall's own petals and shades do anyway. The rule is this project's own, and unpublished.

#include "engine/base/image.h"
#include "engine/camera/camera.h"
#include "engine/gaps/gaps.h"
#include "engine/picture/lens_blur.h"
#include "engine/picture/working_picture.h"
#include "engine/plan/plan.h"

#include <cstdint>
#include <functional>
#include <memory>
#include <stop_token>
#include <vector>

namespace petalproof::reading {

enum class Reads { lost, faint, shows };
const char* nameOf(Reads reads);  // "lost", "faint", "shows"

struct Reading {
  double difference = 0;  // S-CIELAB, CIE 1976: 99th percentile over the gap grown by the blur
  double texture = 0;     // the same of like patches of bloom nearby; 0 where there are too few
  Reads reads = Reads::lost;
};

// Lost: under `faint`, or at most half of the texture. Shows: at least `shows`, and above the texture.
Reads readingOf(double difference, double texture, const plan::ReadingThresholds& thresholds);

struct ReadingInput {
  const picture::WorkingPicture& picture;
  const camera::Camera& camera;  // of the shot
  const scene::PanelGrid& panels;
  const std::vector<gaps::Gap>& gaps;
  picture::LensBlur lens = {};
  plan::ReadingThresholds thresholds = {};
  glm::vec3 elsewhere{0.18F};  // fills a bare wall that no bloom borders, linear light
  std::uint64_t seed = 1;
};

// Keeps buffers from call to call.
class GapReader {
 public:
  // Refers to `pool`, which must outlive it. Readings don't depend on it.
  explicit GapReader(const Pool& pool);
  ~GapReader();

  // As the gaps. `stop` is asked within; another reading may follow.
  std::vector<Reading> read(const ReadingInput& input, const std::stop_token& stop = {});

  // The picture read last as it will be looked at: blurred, at the working size, in sRGB.
  Image asSeen() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

// The delivered picture: blurred, at the working size, in sRGB.
Image asSeen(const picture::WorkingPicture& picture, const camera::Camera& camera,
             const picture::LensBlur& lens, const Pool& pool, const std::stop_token& stop = {});

// Of the camera's board plane, by pixels of a working picture.
picture::InversePlane boardInverse(const camera::Camera& camera, const camera::WorkingSize& size);

}  // namespace petalproof::reading
