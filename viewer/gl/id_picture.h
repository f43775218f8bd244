#pragma once
// What each pixel shows, as OpenGL sees it: to compare with the engine's visibility buffer, and to know what
// is under the cursor. No finding depends on it.

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

  // The scene that `wall` was given last; people are left out.
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
  Buffer there_data_;
  Texture there_;
  Framebuffer target_;
  Renderbuffer ids_;
  Renderbuffer depths_;
  int width_px_ = 0;
  int height_px_ = 0;
};

}  // namespace petalproof::gl
