#pragma once
// A framebuffer to draw pictures on: colours (sRGB, 8 bits) and depths, with several samples for each pixel.
// WallRenderer draws on it; the window shows its texture, pictures for files are read from it.

#include "viewer/gl/handle.h"

#include "engine/base/image.h"

namespace petalproof::gl {

class Canvas {
 public:
  // `samples` for each pixel, or as many as the driver has. Sizes from 1 to largestSide().
  explicit Canvas(int samples = 4);

  // Makes room for a picture of this size, unless it has that size. Throws std::runtime_error where OpenGL
  // can't.
  void resize(int width_px, int height_px);
  int width_px() const { return width_px_; }
  int height_px() const { return height_px_; }

  // Directs all drawing to the canvas, until finish().
  void begin() const;
  // Merges the samples of each pixel into the texture; with `depths` also into the texture of depths. A
  // canvas with a single sample for each pixel draws into these textures at once.
  void finish(bool depths = false) const;

  // The finished picture, from its lowest row upwards.
  GLuint texture() const { return colours_.name(); }
  GLuint depthTexture() const { return depths_.name(); }
  // Directs drawing to the finished picture, past the samples.
  void beginOnFinished() const;
  // Copies another canvas's colours and depths. Precondition: both have a single sample for each pixel and
  // the same size.
  void copyFrom(const Canvas& source) const;
  // Copies another canvas's colours, enlarged to this canvas's size. Precondition: both are finished.
  void enlarge(const Canvas& source) const;
  // The finished picture, read back from OpenGL.
  Image image() const;

  static int largestSide();

 private:
  void makeSampled();
  void makeFinished();

  int samples_;
  int width_px_ = 0;
  int height_px_ = 0;
  Framebuffer sampled_;
  Renderbuffer sampled_colours_;
  Renderbuffer sampled_depths_;
  Framebuffer finished_;
  Texture colours_;
  Texture depths_;
};

// Turns OpenGL's rows over, which begin with the lowest row.
Image upright(int width_px, int height_px, const std::vector<std::uint8_t>& rgba);

}  // namespace petalproof::gl
