#pragma once
// The wall drawing, the first of the main views: the wall flat and to scale, with tape measures along its
// left and upper edge and panel codes in the margin. Here the person edits blooms and panels with the mouse.
// Screen draws it.

#include "viewer/window/bloom_hand.h"
#include "viewer/window/flight.h"
#include "viewer/window/panel_hand.h"
#include "viewer/window/ui.h"
#include "viewer/window/wall_pictures.h"

#include <glm/vec2.hpp>

namespace petalproof::window {

// Converts places of the board plane to the screen and back.
struct DrawingScale {
  Area area;
  glm::dvec2 middle_mm{0};  // the place of the board plane in the middle of the area
  double px_per_mm = 1;

  ImVec2 screenOf(glm::dvec2 board_mm) const;
  glm::dvec2 boardOf(ImVec2 screen) const;
};

// The scale at which the whole wall fits, with a margin that has room for blooms that hang over its edges.
DrawingScale fittingScale(const Area& area, const scene::PanelGrid& panels, float margin_px,
                          glm::dvec2 overhang_mm = glm::dvec2(0));

// How far blooms reach past the wall's edges, to the sides and up or down: the farther of both directions,
// rounded up so that it seldom changes.
glm::dvec2 overhangOf(const scene::Scene& scene);

// The head-on view that fills the drawing's area.
gl::View headOn(const DrawingScale& scale, glm::ivec2 size_px);

// The scale before the person moves the drawing: the whole wall in the middle of the main area, beside its
// tapes.
DrawingScale wholeWall(const Area& main, const scene::PanelGrid& panels, glm::dvec2 overhang_mm, Units units,
                       float ui_scale);

class WallDrawing {
 public:
  app::Actions draw(const app::State& state, const Ui& ui, const Area& area, WallPictures& pictures);
  // True where another frame would look better.
  bool wantsFrame() const { return pane_.wantsFine(); }
  // Shows the whole wall again.
  void fit() { free_ = false; }
  // Flies to a place: brings it to the middle, large enough to be seen well.
  void lookAt(glm::dvec2 board_mm);
  bool isMoving() const { return flight_.isOn(); }

 private:
  void drawPicture(const app::State& state, const Ui& ui, WallPictures& pictures);
  void drawTapes(const app::State& state, const Ui& ui, const scene::PanelGrid& panels) const;
  void drawMargin(const Ui& ui, const scene::PanelGrid& panels) const;
  void drawHeatKey(const app::State& state, const Ui& ui) const;
  void fly();
  void zoomByKeys(const Ui& ui);
  void moveByHand(const Ui& ui, bool hovered);

  PicturePane pane_;
  BloomHand hand_;
  PanelHand panel_hand_;
  DrawingScale scale_;
  glm::dvec2 overhang_mm_{0};
  Flight flight_;
  DrawingScale from_;  // of the flight
  DrawingScale to_;
  bool free_ = false;  // moved or zoomed by the person; false: shows the whole wall
  bool panning_ = false;
};

}  // namespace petalproof::window
