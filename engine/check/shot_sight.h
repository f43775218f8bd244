#pragma once
// One shot: what it sees, and its gaps, before anyone asks how they read.

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
#include <string>
#include <vector>

namespace petalproof {

struct ShotCheck {
  Shot shot;  // as in the plan, or one of the default ones
  // What it was checked with: of a zoom, the worse end, at which more gaps show, then more are faint, then
  // more bare wall is in gaps; the short one if both are alike.
  FocalLength lens;
  Camera camera;
  FocusOfShot focus;
  PictureShares shares;
  OffWall off;
  FramingRemedy remedy;
  RoomForPeople room;
  GapsOfShot found;
  Viewing viewing;
  std::vector<Reading> readings;  // as found.gaps; none where they weren't asked for
  std::vector<std::string> warnings;
};

// How many of a shot's gaps show, are faint and are lost.
struct ReadingCounts {
  int show = 0;
  int faint = 0;
  int lost = 0;
  friend bool operator==(const ReadingCounts&, const ReadingCounts&) = default;
};
ReadingCounts countsOf(const std::vector<Reading>& readings);

// What a look is taken at, and with what.
struct SightTask {
  const Plan& plan;
  const Scene& scene;
  const Shot& shot;  // with one focal length
  const Camera& camera;
  bool triangles = false;  // in the buffer too, for a picture of it
};

// Looks at shots of any plan, one at a time; keeps threads and buffers in between. `threads` 0: as many as
// the machine has.
class ShotSight {
 public:
  explicit ShotSight(int threads = 0) : renderer_(threads), threads_(threads) {}

  // Called between steps with what is being done; may be empty.
  using Step = std::function<void(const char*)>;

  // All of ShotCheck but the readings.
  ShotCheck see(const SightTask& task, const Step& step = {});
  // Only the buffer.
  void lookAgain(const Scene& scene, const Camera& camera, const std::vector<Person>& people,
                 const WallFrame& wall);

  // Gives back the memory of the triangles of what was looked at last.
  void forgetTriangles() { std::vector<std::uint32_t>().swap(buffer_.triangles); }

  // What was looked at last.
  const VisibilityBuffer& seen() const { return buffer_; }

 private:
  VisibilityRenderer renderer_;
  VisibilityBuffer buffer_;
  int threads_;
};

}  // namespace petalproof
