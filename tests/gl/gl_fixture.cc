#include "tests/gl/gl_fixture.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace petalproof::testing {

DemoWall demoWall() {
  auto loaded = plan::loadPlan(PETALPROOF_SOURCE_DIR "/assets/plans/demo.toml");
  REQUIRE(loaded);
  auto scene = scene::buildScene(*loaded.value);
  REQUIRE(scene);
  const camera::WallFrame wall = camera::wallFrameOf(loaded.value->plan);
  return {std::move(*loaded.value), std::move(*scene.value), wall};
}

int livingObjects() {
  int alive = 0;
  for (GLuint name = 1; name < 3000; ++name) {
    alive += glIsBuffer(name) == GL_TRUE ? 1 : 0;
    alive += glIsTexture(name) == GL_TRUE ? 1 : 0;
    alive += glIsVertexArray(name) == GL_TRUE ? 1 : 0;
    alive += glIsFramebuffer(name) == GL_TRUE ? 1 : 0;
    alive += glIsRenderbuffer(name) == GL_TRUE ? 1 : 0;
    alive += glIsProgram(name) == GL_TRUE ? 1 : 0;
    alive += glIsShader(name) == GL_TRUE ? 1 : 0;
  }
  return alive;
}

double brightness(const Image& image, int x, int y) {
  const auto at = 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                       static_cast<std::size_t>(x));
  return (image.rgb[at] + image.rgb[at + 1] + image.rgb[at + 2]) / 3.0;
}

ImageDifference differenceOf(const Image& a, const Image& b, int limit) {
  REQUIRE(a.width_px == b.width_px);
  REQUIRE(a.height_px == b.height_px);
  ImageDifference difference;
  std::size_t different = 0;
  for (std::size_t k = 0; k < a.rgb.size(); k += 3) {
    int most = 0;
    for (std::size_t c = k; c < k + 3; ++c) most = std::max(most, std::abs(a.rgb[c] - b.rgb[c]));
    difference.largest = std::max(difference.largest, most);
    different += most > limit ? 1 : 0;
  }
  difference.share = 3.0 * static_cast<double>(different) / static_cast<double>(a.rgb.size());
  return difference;
}

}  // namespace petalproof::testing
