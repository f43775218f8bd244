#pragma once
// What is drawn on: colours (sRGB, 8 bits) and depths, with several samples a pixel.

#include "viewer/gl/handle.h"

#include "engine/base/image.h"

namespace petalproof::gl {

class Canvas {
 public:
  // `samples` a pixel: 1, or what the driver has up to so many. Sizes from 1 to largestSide().
  explicit Canvas(int samples = 4);

  // Makes room for a picture of this size; does nothing where it has it. Throws std::runtime_error where
  // OpenGL can't.
  void resize(int width_px, int height_px);
  int width_px() const { return width_px_; }
  int height_px() const { return height_px_; }

  // Everything drawn from here on goes to the canvas, until finish().
  void begin() const;
  // Brings the samples of each pixel together, so that the texture shows what was drawn. `depths`: theirs
  // too. What has one sample a pixel was drawn there straight away.
  void finish(bool depths = false) const;

  // What was drawn, its first row the lowest one of the picture.
  GLuint texture() const { return colours_.name(); }
  GLuint depthTexture() const { return depths_.name(); }
  // The framebuffer without samples, to draw onto what is finished.
  void beginOnFinished() const;
  // Takes over what the other one shows, with its depths. Precondition: both have one sample a pixel, and are
  // of a size.
  void copyFrom(const Canvas& other) const;
  // Takes over what the other one shows, enlarged to this one's size. Precondition: both are finished.
  void enlarge(const Canvas& other) const;
  // What was drawn, as a picture.
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

// Rows turned over: OpenGL's first row is the lowest one.
Image upright(int width_px, int height_px, const std::vector<std::uint8_t>& rgba);

}  // namespace petalproof::gl
