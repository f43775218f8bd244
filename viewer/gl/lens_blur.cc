#include "viewer/gl/lens_blur.h"

#include <algorithm>
#include <cmath>

namespace petalproof::gl {

LensSpread spreadOf(const camera::Camera& camera, double nearest_mm, double farthest_mm) {
  // Of the width: larger discs would need more samples than lens_blur.frag takes.
  constexpr double largest_share = 0.08;
  LensSpread spread{camera::lensOf(camera), 1 / camera.pixel_pitch_mm};
  const double largest_mm =
      std::max(camera::blurDiscMm(spread.lens, nearest_mm), camera::blurDiscMm(spread.lens, farthest_mm));
  spread.largest_px = std::clamp(largest_mm * spread.px_per_mm, 1.0, largest_share * camera.width_px);
  return spread;
}

int blurReachPx(const LensSpread& spread) { return static_cast<int>(std::ceil(spread.largest_px / 2)); }

void LensBlur::draw(const Canvas& sharp, const View& view, const LensSpread& spread, Canvas& blurred) const {
  const camera::ThinLens& lens = spread.lens;
  // The factor of blurDiscMm() (engine/camera/lens.h) that doesn't depend on the distance.
  const double factor = lens.focal_mm * lens.focal_mm / (lens.f_number * (lens.focus_mm - lens.focal_mm));
  blurred.resize(sharp.width_px(), sharp.height_px());
  blurred.beginOnFinished();
  glDisable(GL_DEPTH_TEST);
  glDisable(GL_BLEND);
  program_.use();
  glActiveTexture(GL_TEXTURE0);
  glBindTexture(GL_TEXTURE_2D, sharp.texture());
  glActiveTexture(GL_TEXTURE1);
  glBindTexture(GL_TEXTURE_2D, sharp.depthTexture());
  glActiveTexture(GL_TEXTURE0);
  program_.set("sharp", 0);
  program_.set("depths", 1);
  program_.set("picture", glm::vec2(sharp.width_px(), sharp.height_px()));
  program_.set("nearFar", glm::vec2(view.near_mm, view.far_mm));
  program_.set("lens", glm::vec2(factor * spread.px_per_mm, lens.focus_mm));
  program_.set("mostPx", std::max(1.0F, static_cast<float>(blurReachPx(spread))));
  glBindVertexArray(empty_array_.name());
  glDrawArrays(GL_TRIANGLES, 0, 3);
  glBindVertexArray(0);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

LensBlur::LensBlur()
    : program_({"whole_picture.vert"}, {"lens_blur.frag"}), empty_array_(VertexArray::make()) {}

}  // namespace petalproof::gl
