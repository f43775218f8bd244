#pragma once
// The mouse on the blooms of the wall drawing: picks blooms, drags them and turns them with the wheel.
// WallDrawing calls it in each frame.

#include "viewer/window/ui.h"
#include "viewer/window/wall_pictures.h"

#include <glm/vec2.hpp>

#include <optional>

namespace petalproof::window {

struct DrawingScale;

class BloomHand {
 public:
  // `view`: of the picture that fills the scale's area. `hovered`: the mouse is over the drawing and over no
  // other widget.
  app::Actions work(const app::State& state, const Ui& ui, const DrawingScale& scale, const gl::View& view,
                    WallPictures& pictures, bool hovered);
  // Draws rings around chosen blooms and around their copies in other cells, which change with them.
  void drawRings(const app::State& state, const Ui& ui, const DrawingScale& scale,
                 const scene::Scene& scene) const;

  bool holds() const { return dragging_; }
  // True where the mouse is over a chosen bloom, which the wheel then turns.
  bool overChosen() const { return over_chosen_; }

 private:
  void pick(const app::State& state, const Ui& ui, std::optional<std::size_t> bloom,
            const scene::Scene& scene, app::Actions& actions);
  void drag(const app::State& state, const Ui& ui, const DrawingScale& scale, app::Actions& actions);
  void turn(const app::State& state, const Ui& ui, app::Actions& actions);

  bool dragging_ = false;
  bool moved_ = false;
  bool over_chosen_ = false;
  ImVec2 start_{0, 0};
  int stroke_ = 0;
  double turned_deg_ = 0;       // since the wheel's stroke began
  double last_turn_time_ = -1;  // s
};

}  // namespace petalproof::window
