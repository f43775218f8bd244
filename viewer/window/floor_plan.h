#pragma once
// The floor from above as a pencil sketch: the wall, the people and the chosen shot's camera, which the
// person drags or moves by keys. Screen draws it beside the wall.

#include "viewer/window/ui.h"

#include "engine/camera/camera.h"
#include "engine/plan/plan.h"

#include <optional>

namespace petalproof::window {

class FloorPlan {
 public:
  app::Actions draw(const app::State& state, const Ui& ui, const Area& area);
  // True while arrow keys and Tab belong to the sketch: after a click on it, or F5.
  bool hasKeys() const { return has_keys_; }

 private:
  enum class Thing { camera, aim, person };
  struct Handle {
    Thing thing = Thing::camera;
    int person = 0;
    ImVec2 at{0, 0};
  };
  // Converts places on the floor (right of the wall's centre line, out from the board, mm) to the screen and
  // back.
  struct Scale {
    ImVec2 zero{0, 0};
    float px_per_mm = 1;
    bool turned = false;      // the wall is drawn along the left edge, where that makes the sketch larger
    double shown_out_mm = 0;  // the farthest shown distance from the wall
    Area sheet;               // the limits of all writing
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

  Handle chosen_;  // held by the mouse, or moved by keys
  bool holds_ = false;
  bool has_keys_ = false;
  int stroke_ = 0;
  std::optional<Scale> kept_;  // while a thing is held, so that the sketch doesn't move under the mouse
};

}  // namespace petalproof::window
