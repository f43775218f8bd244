#pragma once
// The floor from above, as sketched with a pencil: wall, people, the chosen shot's camera, all to be dragged.

#include "viewer/window/ui.h"

#include "engine/camera/camera.h"
#include "engine/plan/plan.h"

#include <optional>

namespace petalproof::window {

class FloorPlan {
 public:
  app::Actions draw(const app::State& state, const Ui& ui, const Area& area);
  // Arrows and Tab belong to it: it was pressed last, or F5 was.
  bool hasKeys() const { return has_keys_; }

 private:
  enum class Thing { camera, aim, person };
  struct Handle {
    Thing what = Thing::camera;
    int person = 0;
    ImVec2 at{0, 0};
  };
  // Places on the floor are right of the wall's centre line and out from the board, mm.
  struct Scale {
    ImVec2 zero{0, 0};
    float px_per_mm = 1;
    bool turned = false;      // the wall stands along the left edge, where the sketch finds more room so
    double shown_out_mm = 0;  // as far from the wall as is shown
    Area sheet;               // what is written stays on it
    ImVec2 screenOf(double right_mm, double out_mm) const;
    glm::dvec2 floorOf(ImVec2 screen) const;
  };

  Scale scaleFor(const plan::Plan& plan, const plan::Shot& shot, const Area& area, const Ui& ui) const;
  void drawWall(const plan::Plan& plan, const Ui& ui, const Scale& scale) const;
  void drawFloorEnd(const plan::Plan& plan, const Ui& ui, const Scale& scale) const;
  void drawShot(const plan::Plan& plan, const plan::Shot& shot, const Ui& ui, const Scale& scale) const;
  void drawDistances(const plan::Plan& plan, const plan::Shot& shot, const Ui& ui, const Scale& scale) const;
  void drawOthers(const app::State& state, const Ui& ui, const Scale& scale, app::Actions& actions) const;
  std::vector<Handle> handlesOf(const plan::Plan& plan, const plan::Shot& shot, const Scale& scale) const;
  void drawChosen(const Ui& ui) const;
  static const char* nameOf(Thing thing);
  plan::Shot withChosenAt(const plan::Shot& shot, glm::dvec2 place_mm, Units units) const;
  void chooseNext(const std::vector<Handle>& handles, int by);
  void hold(const app::State& state, const plan::Shot& shot, const Ui& ui, const Scale& scale,
            app::Actions& actions);
  void followKeys(const app::State& state, const plan::Shot& shot, const Ui& ui, const Scale& scale,
                  app::Actions& actions);

  Handle chosen_;  // what the mouse holds, or the keys move
  bool holds_ = false;
  bool has_keys_ = false;
  int stroke_ = 0;
  std::optional<Scale> kept_;  // while something is held, so that the sketch doesn't move under the hand
};

}  // namespace petalproof::window
