#include "viewer/gl/wall_marks.h"

#include <glm/geometric.hpp>

#include <array>
#include <cmath>
#include <cstddef>

namespace petalproof::gl {
namespace {

constexpr float dash_px = 11;  // the length of a dash with its gap, for lines of usual_width_px
constexpr float usual_width_px = 1.5F;
constexpr float halo_px = 1.6F;  // by which the halo is wider than its line, so that it shows on both sides
constexpr float halo_alpha = 0.9F;
constexpr float chosen_halo_alpha = 0.95F;
constexpr std::uint32_t chosen_bit = 4;  // beside the style, as mark.vert and mark.frag read it

struct Corner {
  glm::vec2 from_mm{0};
  glm::vec2 to_mm{0};
  float across = 0;
  float end = 0;
  float start_mm = 0;
  std::uint32_t style = 0;
};

void addPieces(std::vector<Corner>& corners, const WallMark& mark) {
  static constexpr std::array<glm::vec2, 6> sides{glm::vec2{-1, 0}, {1, 0}, {1, 1}, {-1, 0}, {1, 1}, {-1, 1}};
  const std::uint32_t style = static_cast<std::uint32_t>(mark.style) | (mark.chosen ? chosen_bit : 0U);
  double along = 0;
  for (std::size_t k = 1; k < mark.outline_mm.size(); ++k) {
    const glm::dvec2& from = mark.outline_mm[k - 1];
    const glm::dvec2& to = mark.outline_mm[k];
    for (const glm::vec2& side : sides)
      corners.push_back({glm::vec2(from), glm::vec2(to), side.x, side.y, static_cast<float>(along), style});
    along += glm::distance(from, to);
  }
}

void describeCorners() {
  const auto offset = [](std::size_t bytes) {
    return reinterpret_cast<const void*>(bytes);  // NOLINT: OpenGL takes offsets as pointers
  };
  for (GLuint k = 0; k < 3; ++k) glEnableVertexAttribArray(k);
  glVertexAttribPointer(0, 4, GL_FLOAT, GL_FALSE, sizeof(Corner), offset(offsetof(Corner, from_mm)));
  glVertexAttribPointer(1, 3, GL_FLOAT, GL_FALSE, sizeof(Corner), offset(offsetof(Corner, across)));
  glVertexAttribIPointer(2, 1, GL_UNSIGNED_INT, sizeof(Corner), offset(offsetof(Corner, style)));
}

glm::vec4 inkOf(Colour c, float alpha) {
  return glm::vec4(glm::vec3(c.red, c.green, c.blue) / 255.0F, alpha);
}

// Pixels for each millimetre of the board plane near a place; 1 where the place is behind the eye.
float pxPerMm(const View& view, const glm::vec2& place) {
  const glm::vec4 at = view.clipFromWall * glm::vec4(place, 0, 1);
  const glm::vec4 up = view.clipFromWall * glm::vec4(place + glm::vec2(0, 1), 0, 1);
  if (at.w <= 0 || up.w <= 0) return 1;
  const glm::vec2 size(view.width_px, view.height_px);
  constexpr float least = 1e-4F;  // keeps the length of dashes finite
  return std::max(least, glm::length((glm::vec2(up) / up.w - glm::vec2(at) / at.w) * size) / 2.0F);
}

}  // namespace

WallMarks::WallMarks()
    : program_({"mark.vert"}, {"mark.frag"}), array_(VertexArray::make()), corners_(Buffer::make()) {}

void WallMarks::set(std::span<const WallMark> marks) {
  std::vector<Corner> corners;
  for (const WallMark& mark : marks) addPieces(corners, mark);
  count_ = static_cast<GLsizei>(corners.size());
  glm::vec2 sum(0);
  for (const Corner& corner : corners) sum += corner.from_mm;
  if (count_ > 0) middle_mm_ = sum / static_cast<float>(count_);
  glBindVertexArray(array_.name());
  glBindBuffer(GL_ARRAY_BUFFER, corners_.name());
  glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(corners.size() * sizeof(Corner)), corners.data(),
               GL_DYNAMIC_DRAW);
  describeCorners();
  glBindVertexArray(0);
}

void WallMarks::draw(const View& view, const MarkInk& ink) const {
  if (count_ == 0) return;
  glDisable(GL_DEPTH_TEST);
  glEnable(GL_BLEND);
  glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
  program_.use();
  program_.set("clipFromWall", view.clipFromWall);
  program_.set("picture", glm::vec2(view.width_px, view.height_px));
  program_.set("dashMm", dash_px * ink.width_px / usual_width_px / pxPerMm(view, middle_mm_));
  glBindVertexArray(array_.name());
  for (const bool halo : {true, false}) {
    program_.set("halo", halo ? 1 : 0);
    program_.set("widthPx", halo ? ink.width_px + halo_px : ink.width_px);
    program_.set("ink", halo ? inkOf(ink.halo, halo_alpha) : inkOf(ink.ink, 1));
    program_.set("chosenInk", halo ? inkOf(ink.halo, chosen_halo_alpha) : inkOf(ink.chosen, 1));
    glDrawArrays(GL_TRIANGLES, 0, count_);
  }
  glBindVertexArray(0);
  glDisable(GL_BLEND);
}

}  // namespace petalproof::gl
