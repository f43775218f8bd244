#pragma once
// The chosen shot through the lens: its frame bright, what lies outside dimmed; where the frame runs off the
// wall, and how far.

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

// The shot's camera with a larger picture around the same frame, which is `frame_width_px` wide then.
camera::Camera widened(const camera::Camera& camera, double frame_width_px, int width_px, int height_px);

// The shot's picture alone, for a client: `longest_px` along its longer side, no marks.
PictureWish deliveredPicture(const app::State& state, const scene::PanelGrid& panels,
                             const camera::Camera& camera, int longest_px);

}  // namespace petalproof::window
