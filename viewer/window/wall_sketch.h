#pragma once
// Draws a wall that isn't open yet, flat and with its tapes: the first wall on the start page.

#include "viewer/window/ui.h"
#include "viewer/window/wall_pictures.h"

#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"

#include <cstdint>
#include <memory>

namespace petalproof::window {

class WallSketch {
 public:
  // `scene`: of the plan. `pictures` then hold this wall, until they follow another state.
  void draw(const Ui& ui, const Area& area, const std::shared_ptr<const plan::LoadedPlan>& plan,
            const std::shared_ptr<const scene::Scene>& scene, WallPictures& pictures);
  bool wantsFrame() const { return pane_.wantsFine(); }

 private:
  PicturePane pane_;
};

}  // namespace petalproof::window
