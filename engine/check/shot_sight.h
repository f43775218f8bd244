#pragma once
// One shot: what it sees, and its gaps, before anyone asks how they read.

#include "engine/base/pool.h"
#include "engine/base/problem.h"
#include "engine/camera/camera.h"
#include "engine/camera/focus.h"
#include "engine/camera/framing.h"
#include "engine/camera/looked_at.h"
#include "engine/gaps/gaps.h"
#include "engine/plan/plan.h"
#include "engine/reading/reading.h"
#include "engine/scene/scene.h"
#include "engine/visibility/visibility_buffer.h"

#include <functional>
#include <memory>
#include <stop_token>
#include <string>
#include <utility>
#include <vector>

namespace petalproof::check {

struct ShotCheck {
  plan::Shot shot;  // as in the plan, or one of the default ones
  // What it was checked with: of a zoom, the worse end, at which more holes show, then more are faint, then
  // more bare wall is in gaps; the short one if both are alike.
  plan::FocalLength lens;
  camera::Camera camera;
  camera::FocusOfShot focus;
  visibility::PictureShares shares;
  camera::OffWall off;
  camera::FramingRemedy remedy;
  camera::RoomForPeople room;
  gaps::GapsOfShot found;
  camera::Viewing viewing;
  std::vector<reading::Reading> readings;         // as found.holes; none where they weren't asked for
  std::shared_ptr<const reading::Oddity> pieces;  // what they were held against; null without readings
  std::vector<std::string> warnings;
};

// A gap's name in the JSON and in lists: "couple.12".
std::string idOf(const ShotCheck& shot, const gaps::Gap& gap);
// The reading of the hole that a gap belongs to; null where it wasn't read.
const reading::Reading* readingOf(const ShotCheck& shot, const gaps::Gap& gap);
// How the gap's hole reads; where it wasn't read it counts as showing.
reading::Reads readsOf(const ShotCheck& shot, const gaps::Gap& gap);
// Holes that show and aren't behind people.
int showInTheOpen(const ShotCheck& shot);

// How many of a shot's holes show, are faint and are lost.
struct ReadingCounts {
  int show = 0;
  int faint = 0;
  int lost = 0;
  friend bool operator==(const ReadingCounts&, const ReadingCounts&) = default;
};
ReadingCounts countsOf(const std::vector<reading::Reading>& readings);

// What a look is taken at, and with what.
struct SightTask {
  const plan::Plan& plan;
  const scene::Scene& scene;
  const plan::Shot& shot;  // with one focal length
  const camera::Camera& camera;
  bool triangles = false;  // in the buffer too, for a picture of it
};

// Looks at shots of any plan, one at a time; keeps buffers in between.
class ShotSight {
 public:
  // Refers to `pool`, which must outlive it.
  explicit ShotSight(const Pool& pool) : pool_(pool), renderer_(pool) {}

  // Called between steps with what is being done; may be empty.
  using Step = std::function<void(const char*)>;

  // All of ShotCheck but the readings.
  ShotCheck see(const SightTask& task, const Step& step = {}, const std::stop_token& stop = {});
  // Only the buffer.
  void lookAgain(const scene::Scene& scene, const camera::Camera& camera,
                 const std::vector<plan::Person>& people, const camera::WallFrame& wall,
                 const std::stop_token& stop = {});

  // Gives back the memory of the triangles of what was looked at last.
  void forgetTriangles() { std::vector<std::uint32_t>().swap(buffer_.triangles); }

  // What was looked at last.
  const visibility::VisibilityBuffer& seen() const { return buffer_; }

 private:
  const Pool& pool_;
  visibility::VisibilityRenderer renderer_;
  visibility::VisibilityBuffer buffer_;
};

}  // namespace petalproof::check
