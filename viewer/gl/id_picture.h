#pragma once
// Draws for each pixel the id of the bloom, board or slit that it shows. The window finds the bloom under the
// cursor with it; tests compare it with the engine's visibility buffer. No finding depends on it.

#include "viewer/gl/handle.h"
#include "viewer/gl/program.h"
#include "viewer/gl/view.h"
#include "viewer/gl/wall_renderer.h"

#include "engine/visibility/visibility_buffer.h"

#include <vector>

namespace petalproof::gl {

class IdPicture {
 public:
  IdPicture();

  // Draws the scene that `wall` holds, without people.
  void draw(const WallRenderer& wall, const View& view);

  // Row-major from the top left.
  std::vector<visibility::PixelId> ids() const;
  int width_px() const { return width_px_; }
  int height_px() const { return height_px_; }

 private:
  void resize(int width_px, int height_px);
  void drawBoardPlane(const scene::PanelGrid& panels, const View& view);

  Program bloom_program_;
  Program plane_program_;
  VertexArray empty_array_;
  Buffer has_panel_data_;
  Texture has_panel_;
  Framebuffer target_;
  Renderbuffer ids_;
  Renderbuffer depths_;
  int width_px_ = 0;
  int height_px_ = 0;
};

}  // namespace petalproof::gl
