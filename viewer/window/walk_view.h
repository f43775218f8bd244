#pragma once
// Walking around before the wall at eye height, as a guest would: look with the mouse, walk with the
// keyboard.

#include "viewer/window/flight.h"
#include "viewer/window/ui.h"
#include "viewer/window/wall_pictures.h"

#include <glm/vec3.hpp>

#include <optional>

namespace petalproof::window {

class WalkView {
 public:
  void draw(const app::State& state, const Ui& ui, const Area& area, WallPictures& pictures);
  // Flies before a place of the wall, close enough to see it well.
  void standBefore(glm::dvec2 board_mm, const scene::PanelGrid& panels);
  // Standing still, the picture would look better a frame later; or somebody is walking.
  bool wantsFrame() const { return pane_.wantsFine() || walking_; }
  bool isMoving() const { return flight_.isOn() || walking_; }

 private:
  struct Eye {
    glm::dvec3 at_mm{0};  // wall frame
    double right_deg = 0;
    double up_deg = 0;
  };
  void fly();
  void walk(const scene::PanelGrid& panels, bool focused);
  void look(bool hovered);

  PicturePane pane_;
  std::optional<Eye> eye_;
  Flight flight_;
  Eye from_;  // of the flight
  Eye to_;
  bool looking_ = false;
  bool walking_ = false;
};

}  // namespace petalproof::window
