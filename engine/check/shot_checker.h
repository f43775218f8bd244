#pragma once
// One shot: what it sees, its gaps, and how each reads.

#include "engine/base/image.h"
#include "engine/base/problem.h"
#include "engine/camera/camera.h"
#include "engine/camera/focus.h"
#include "engine/camera/framing.h"
#include "engine/camera/looked_at.h"
#include "engine/gaps/gaps.h"
#include "engine/plan/read_plan.h"
#include "engine/reading/reading.h"
#include "engine/reading/working_picture.h"
#include "engine/scene/scene.h"
#include "engine/visibility/visibility_buffer.h"

#include <functional>
#include <optional>
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

// Checks shots of one plan, one at a time; keeps threads, light and buffers in between.
class ShotChecker {
 public:
  // Refers to `loaded` and `scene`, which must outlive it. `threads` 0: as many as the machine has.
  // `readings`: find how each gap reads.
  ShotChecker(const LoadedPlan& loaded, const Scene& scene, int threads = 0, bool readings = true);

  // Called between steps with what is being done; may be empty.
  using Step = std::function<void(const char*)>;

  // With the worse of its lenses. `colours`: of board, edges, behind and room, in place of the scene's.
  // Problems: a camera that can't be, at either end of a zoom.
  Result<ShotCheck> check(const Shot& shot, const ShotPlaces& places, const SceneColours& colours,
                          const Step& step = {});
  Result<ShotCheck> check(const Shot& shot) { return check(shot, {}, scene_.colours); }

  // How the gaps of the shot checked last would read with these colours; what it sees stays.
  std::vector<Reading> readAgain(ShotCheck checked_last, const SceneColours& colours);

  // What the shot checked last sees.
  const VisibilityBuffer& seen() const { return buffer_; }

  // The picture of a shot checked before as it will be looked at: blurred, at the working size; people are
  // left out.
  Image asSeen(const ShotCheck& shot);

 private:
  struct LensEnd {
    Shot shot;
    Camera camera;
  };
  ShotCheck see(const LensEnd& end, const SceneColours& colours, const Step& step);
  WallPainter& painter();
  void read(const SceneColours& colours, ShotCheck& done);

  WallFrame wall_;
  const LoadedPlan& loaded_;
  const Scene& scene_;
  int threads_;
  VisibilityRenderer renderer_;
  bool readings_;
  GapReader reader_;
  std::optional<WallPainter> painter_;  // made when first needed
  VisibilityBuffer buffer_;
};

}  // namespace petalproof
