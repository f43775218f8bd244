#pragma once
// The view of a guest who walks around before the wall: the mouse turns the eyes, keys walk. Screen draws it
// as the main view.

#include "viewer/window/flight.h"
#include "viewer/window/ui.h"
#include "viewer/window/wall_pictures.h"

#include <glm/vec3.hpp>

#include <optional>

namespace petalproof::window {

class WalkView {
 public:
  void draw(const app::State& state, const Ui& ui, const Area& area, WallPictures& pictures);
  // Flies to a place of the wall, close enough to see it well.
  void standBefore(glm::dvec2 board_mm, const scene::PanelGrid& panels);
  // True where another frame would look better, or while the person walks.
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
