#pragma once
// The view through the chosen shot's lens: the frame bright, its surroundings dimmed, with a warning where
// the frame runs off the wall. Screen draws it as the main view.

#include "viewer/window/client_picture.h"
#include "viewer/window/ui.h"
#include "viewer/window/wall_pictures.h"

#include "engine/camera/camera.h"

namespace petalproof::window {

class LensView {
 public:
  void draw(const app::State& state, const Ui& ui, const Area& area, WallPictures& pictures);
  bool wantsFrame() const { return pane_.wantsFine() || client_.wantsFrame(); }

 private:
  void drawFrame(const app::State& state, const Ui& ui, const Area& area, const Area& frame) const;
  void drawEdges(const plan::Shot& shot, const camera::Camera& camera, const camera::WallFrame& wall,
                 const Ui& ui, const Area& frame) const;

  PicturePane pane_;
  ClientPicture client_;
};

// The shot's camera with a larger picture around the same frame, which becomes `frame_width_px` wide.
camera::Camera widened(const camera::Camera& camera, double frame_width_px, int width_px, int height_px);

// The shot's picture for a client: `longest_px` along its longer side, without marks.
PictureWish deliveredPicture(const app::State& state, const scene::PanelGrid& panels,
                             const camera::Camera& camera, int longest_px);

}  // namespace petalproof::window
