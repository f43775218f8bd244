#include "viewer/gl/canvas.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cstddef>
#include <stdexcept>

namespace petalproof::gl {
namespace {

void checkComplete() {
  if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE)
    throw std::runtime_error("OpenGL can't draw a picture of that size");
}

Renderbuffer storageOf(int samples, GLenum format, int width_px, int height_px) {
  auto made = Renderbuffer::make();
  glBindRenderbuffer(GL_RENDERBUFFER, made.name());
  glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, format, width_px, height_px);
  return made;
}

Texture plainTexture(GLint format, GLenum parts, GLenum type, GLint filter, int width_px, int height_px) {
  auto made = Texture::make();
  glBindTexture(GL_TEXTURE_2D, made.name());
  glTexImage2D(GL_TEXTURE_2D, 0, format, width_px, height_px, 0, parts, type, nullptr);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, filter);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, filter);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  return made;
}

int sampleLimit() {
  GLint limit = 1;
  glGetIntegerv(GL_MAX_SAMPLES, &limit);
  return limit;
}

}  // namespace

Canvas::Canvas(int samples) : samples_(std::clamp(samples, 1, std::max(1, sampleLimit()))) {}

int Canvas::largestSide() {
  std::array<GLint, 3> limits{};
  glGetIntegerv(GL_MAX_RENDERBUFFER_SIZE, &limits[0]);
  glGetIntegerv(GL_MAX_TEXTURE_SIZE, &limits[1]);
  std::array<GLint, 2> viewport{};
  glGetIntegerv(GL_MAX_VIEWPORT_DIMS, viewport.data());
  limits[2] = std::min(viewport[0], viewport[1]);
  return *std::min_element(limits.begin(), limits.end());
}

void Canvas::resize(int width_px, int height_px) {
  assert(width_px >= 1 && height_px >= 1);
  if (width_px == width_px_ && height_px == height_px_) return;
  width_px_ = width_px;
  height_px_ = height_px;
  makeFinished();
  if (samples_ > 1) makeSampled();
}

void Canvas::makeSampled() {
  sampled_colours_ = storageOf(samples_, GL_RGBA8, width_px_, height_px_);
  sampled_depths_ = storageOf(samples_, GL_DEPTH_COMPONENT24, width_px_, height_px_);
  if (!sampled_) sampled_ = Framebuffer::make();
  glBindFramebuffer(GL_FRAMEBUFFER, sampled_.name());
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, sampled_colours_.name());
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, sampled_depths_.name());
  checkComplete();
}

void Canvas::makeFinished() {
  colours_ = plainTexture(GL_RGBA8, GL_RGBA, GL_UNSIGNED_BYTE, GL_LINEAR, width_px_, height_px_);
  depths_ = plainTexture(GL_DEPTH_COMPONENT24, GL_DEPTH_COMPONENT, GL_UNSIGNED_INT, GL_NEAREST, width_px_,
                         height_px_);
  if (!finished_) finished_ = Framebuffer::make();
  glBindFramebuffer(GL_FRAMEBUFFER, finished_.name());
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colours_.name(), 0);
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, depths_.name(), 0);
  checkComplete();
}

void Canvas::begin() const {
  glBindFramebuffer(GL_FRAMEBUFFER, samples_ > 1 ? sampled_.name() : finished_.name());
  glViewport(0, 0, width_px_, height_px_);
}

void Canvas::beginOnFinished() const {
  glBindFramebuffer(GL_FRAMEBUFFER, finished_.name());
  glViewport(0, 0, width_px_, height_px_);
}

void Canvas::finish(bool depths) const {
  if (samples_ <= 1) return glBindFramebuffer(GL_FRAMEBUFFER, 0);
  glBindFramebuffer(GL_READ_FRAMEBUFFER, sampled_.name());
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, finished_.name());
  const GLbitfield parts = GL_COLOR_BUFFER_BIT | (depths ? GL_DEPTH_BUFFER_BIT : 0U);
  glBlitFramebuffer(0, 0, width_px_, height_px_, 0, 0, width_px_, height_px_, parts, GL_NEAREST);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

void Canvas::copyFrom(const Canvas& source) const {
  assert(samples_ <= 1 && source.samples_ <= 1);
  assert(width_px_ == source.width_px_ && height_px_ == source.height_px_);
  glBindFramebuffer(GL_READ_FRAMEBUFFER, source.finished_.name());
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, finished_.name());
  glBlitFramebuffer(0, 0, width_px_, height_px_, 0, 0, width_px_, height_px_,
                    GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT, GL_NEAREST);
}

void Canvas::enlarge(const Canvas& source) const {
  glBindFramebuffer(GL_READ_FRAMEBUFFER, source.finished_.name());
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, finished_.name());
  glBlitFramebuffer(0, 0, source.width_px_, source.height_px_, 0, 0, width_px_, height_px_,
                    GL_COLOR_BUFFER_BIT, GL_LINEAR);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

Image Canvas::image() const {
  std::vector<std::uint8_t> rgba(4 * static_cast<std::size_t>(width_px_) *
                                 static_cast<std::size_t>(height_px_));
  glBindFramebuffer(GL_FRAMEBUFFER, finished_.name());
  glPixelStorei(GL_PACK_ALIGNMENT, 4);
  glReadPixels(0, 0, width_px_, height_px_, GL_RGBA, GL_UNSIGNED_BYTE, rgba.data());
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  return upright(width_px_, height_px_, rgba);
}

Image upright(int width_px, int height_px, const std::vector<std::uint8_t>& rgba) {
  Image image{width_px, height_px, {}};
  image.rgb.reserve(rgba.size() / 4 * 3);
  const auto row_bytes = 4 * static_cast<std::size_t>(width_px);
  for (auto row = static_cast<std::size_t>(height_px); row-- > 0;)
    for (std::size_t k = row * row_bytes; k < (row + 1) * row_bytes; k += 4)
      image.rgb.insert(image.rgb.end(), {rgba[k], rgba[k + 1], rgba[k + 2]});
  return image;
}

}  // namespace petalproof::gl
