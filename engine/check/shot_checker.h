#pragma once
// One shot: what it sees, its gaps, and how each reads.

#include "engine/base/image.h"
#include "engine/base/pool.h"
#include "engine/base/problem.h"
#include "engine/camera/camera.h"
#include "engine/check/internal/yardstick.h"
#include "engine/check/shot_sight.h"
#include "engine/picture/working_picture.h"
#include "engine/plan/read_plan.h"
#include "engine/reading/reading.h"
#include "engine/scene/scene.h"
#include "engine/visibility/visibility_buffer.h"

#include <optional>
#include <stop_token>
#include <vector>

namespace petalproof::check {

// Checks shots of one plan, one at a time; keeps light and buffers in between.
class ShotChecker {
 public:
  // Refers to `loaded`, `scene` and `pool`, which must outlive it. `readings`: find how each gap reads.
  ShotChecker(const plan::LoadedPlan& loaded, const scene::Scene& scene, const Pool& pool,
              bool readings = true);
  // Goes on with another plan and scene, likewise; keeps its memory, which a wall full of large pictures
  // takes a while to get.
  void goOnWith(const plan::LoadedPlan& loaded, const scene::Scene& scene,
                picture::Lighting lighting = picture::Lighting::full);

  using Step = ShotSight::Step;

  // With the worse of its lenses. `colours`: of board, edges, behind and room, in place of the scene's.
  // Problems: a camera that can't be, at either end of a zoom. `stop` is asked within; another check may
  // follow.
  Result<ShotCheck> check(const plan::Shot& shot, const camera::ShotPlaces& places,
                          const scene::SceneColours& colours, const Step& step = {},
                          const std::stop_token& stop = {});
  Result<ShotCheck> check(const plan::Shot& shot) { return check(shot, {}, scene_->colours); }

  // How the holes of a checked shot would read with these colours. `seen`: what it sees.
  std::vector<reading::Reading> readAgain(const ShotCheck& shot, const visibility::VisibilityBuffer& seen,
                                          const scene::SceneColours& colours,
                                          const std::stop_token& stop = {});

  const Pool& pool() const { return pool_; }

  // What check() saw, until it is called again.
  const visibility::VisibilityBuffer& seen() const { return sight_.seen(); }

  // The picture of a shot checked before as it will be looked at: blurred, at the working size; people are
  // left out.
  Image asSeen(const ShotCheck& shot, const std::stop_token& stop = {});

 private:
  struct LensEnd {
    plan::Shot shot;
    camera::Camera camera;
  };
  ShotCheck see(const LensEnd& end, const scene::SceneColours& colours, const Step& step,
                const std::stop_token& stop);
  picture::WallPainter& painter();
  reading::PictureLooks looksOf(const camera::Camera& camera, const camera::Viewing& viewing,
                                const std::vector<gaps::Hole>& holes,
                                const visibility::VisibilityBuffer& seen, const scene::SceneColours& colours,
                                const std::stop_token& stop);
  Yardstick yardstickFor(const ShotCheck& shot, const reading::PictureLooks& looks,
                         const scene::SceneColours& colours, const std::stop_token& stop);
  void addPiecesOf(const plan::Shot& shot, const scene::SceneColours& colours,
                   std::vector<reading::PatchLooks>& pieces, const std::stop_token& stop);

  camera::WallFrame wall_;
  const plan::LoadedPlan* loaded_;
  const scene::Scene* scene_;
  const Pool& pool_;
  ShotSight sight_;
  bool readings_;
  reading::PictureLooker looker_;
  picture::Lighting lighting_ = picture::Lighting::full;
  std::optional<picture::WallPainter> painter_;  // made when first needed
  bool painter_is_of_scene_ = false;
};

}  // namespace petalproof::check
