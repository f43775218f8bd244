#include "viewer/gl/heat_layer.h"

#include <glm/common.hpp>

#include <algorithm>
#include <cstddef>
#include <vector>

namespace petalproof::gl {
namespace {

// On a side: finer than any screen shows, and every OpenGL 3.3 in use takes it.
constexpr int most_texels = 4096;

// Colours from a single shot to all shots, each darker than the colour before it.
constexpr glm::vec3 lightest{0.93F, 0.66F, 0.28F};
constexpr glm::vec3 middle{0.78F, 0.29F, 0.16F};
constexpr glm::vec3 darkest{0.29F, 0.06F, 0.16F};

struct Counts {
  int columns = 0;
  int rows = 0;
  int step = 1;  // cells on a texel's side
  std::vector<std::uint8_t> shots;
};

// The highest count of each square of cells, so that narrow places stay.
Counts coarser(const gaps::BareMap& map) {
  Counts counts;
  counts.step = (std::max(map.columns, map.rows) + most_texels - 1) / most_texels;
  counts.columns = (map.columns + counts.step - 1) / counts.step;
  counts.rows = (map.rows + counts.step - 1) / counts.step;
  counts.shots.assign(static_cast<std::size_t>(counts.columns) * static_cast<std::size_t>(counts.rows), 0);
  std::size_t cell = 0;
  for (int row = 0; row < map.rows; ++row)
    for (int column = 0; column < map.columns; ++column) {
      std::uint8_t& most =
          counts
              .shots[static_cast<std::size_t>(row / counts.step) * static_cast<std::size_t>(counts.columns) +
                     static_cast<std::size_t>(column / counts.step)];
      most = std::max(most, map.shots[cell++]);
    }
  return counts;
}

}  // namespace

Colour heatColour(int shots, int all_shots) {
  const float share =
      std::clamp(static_cast<float>(shots - 1) / static_cast<float>(std::max(all_shots - 1, 1)), 0.0F, 1.0F);
  const glm::vec3 c = 255.0F * (share < 0.5F ? glm::mix(lightest, middle, 2 * share)
                                             : glm::mix(middle, darkest, 2 * share - 1));
  return {static_cast<std::uint8_t>(c.x), static_cast<std::uint8_t>(c.y), static_cast<std::uint8_t>(c.z)};
}

HeatLayer::HeatLayer()
    : program_({"board_plane.vert"}, {"heat.frag"}), array_(VertexArray::make()), counts_(Texture::make()) {}

void HeatLayer::set(const gaps::BareMap& map, int shots) {
  all_shots_ = map.columns > 0 && map.rows > 0 ? static_cast<float>(shots) : 0.0F;
  if (all_shots_ <= 0) return;
  const Counts counts = coarser(map);
  const auto texel_mm = static_cast<float>(map.cell_mm * counts.step);
  frame_mm_ = {0, 0, texel_mm * static_cast<float>(counts.columns),
               texel_mm * static_cast<float>(counts.rows)};
  glBindTexture(GL_TEXTURE_2D, counts_.name());
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_R8, counts.columns, counts.rows, 0, GL_RED, GL_UNSIGNED_BYTE,
               counts.shots.data());
  glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
}

void HeatLayer::draw(const View& view) const {
  if (all_shots_ <= 0) return;
  glDisable(GL_DEPTH_TEST);
  glEnable(GL_BLEND);
  glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
  glActiveTexture(GL_TEXTURE0);
  glBindTexture(GL_TEXTURE_2D, counts_.name());
  program_.use();
  program_.set("clipFromWall", view.clipFromWall);
  program_.set("frame", frame_mm_);
  program_.set("counts", 0);
  program_.set("most", all_shots_);
  program_.set("lightest", lightest);
  program_.set("middle", middle);
  program_.set("darkest", darkest);
  glBindVertexArray(array_.name());
  glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
  glBindVertexArray(0);
  glDisable(GL_BLEND);
}

}  // namespace petalproof::gl
