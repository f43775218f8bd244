#include "viewer/gl/light_maps.h"

#include "viewer/gl/view.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace petalproof::gl {
namespace {

constexpr int shadow_side_px = 2048;
constexpr int height_side_px = 1024;
constexpr int neighbour_side_px = 512;
// Blooms hang over the wall's edges.
constexpr float overhang_mm = 300;
constexpr int shadow_unit = 1;
constexpr int neighbour_unit = 2;

// A target for depths only, compared when read.
void makeShadowTarget(const Texture& depths, const Framebuffer& target) {
  glBindTexture(GL_TEXTURE_2D, depths.name());
  glTexImage2D(GL_TEXTURE_2D, 0, GL_DEPTH_COMPONENT24, shadow_side_px, shadow_side_px, 0, GL_DEPTH_COMPONENT,
               GL_UNSIGNED_INT, nullptr);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_MODE, GL_COMPARE_REF_TO_TEXTURE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_FUNC, GL_LEQUAL);
  glBindFramebuffer(GL_FRAMEBUFFER, target.name());
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, depths.name(), 0);
  glDrawBuffer(GL_NONE);
  glReadBuffer(GL_NONE);
}

void makeColourTarget(const Texture& texture, GLint format, int side_px, const Framebuffer& target) {
  glBindTexture(GL_TEXTURE_2D, texture.name());
  glTexImage2D(GL_TEXTURE_2D, 0, format, side_px, side_px, 0, GL_RED, GL_FLOAT, nullptr);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glBindFramebuffer(GL_FRAMEBUFFER, target.name());
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture.name(), 0);
  if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE)
    throw std::runtime_error("OpenGL can't keep the heights of the wall");
}

void makeHeightTarget(const Texture& heights, const Renderbuffer& depths, const Framebuffer& target) {
  makeColourTarget(heights, GL_R16F, height_side_px, target);
  glGenerateMipmap(GL_TEXTURE_2D);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
  glBindRenderbuffer(GL_RENDERBUFFER, depths.name());
  glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH_COMPONENT24, height_side_px, height_side_px);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, depths.name());
}

struct Frame {
  glm::mat4 clipFromWall{1.0F};
  glm::vec2 size_mm{1.0F};
};

// A box of the wall frame as the light sees it, with parallel rays.
Frame lightFrame(const glm::vec3& low, const glm::vec3& high) {
  const glm::vec3 back = towardsKeyLight();
  const glm::vec3 right = glm::normalize(glm::cross(glm::vec3(0, 1, 0), back));
  const glm::vec3 up = glm::cross(back, right);
  glm::vec3 least(1e9F);
  glm::vec3 most(-1e9F);
  for (int k = 0; k < 8; ++k) {
    const glm::vec3 corner((k & 1) != 0 ? high.x : low.x, (k & 2) != 0 ? high.y : low.y,
                           (k & 4) != 0 ? high.z : low.z);
    const glm::vec3 seen(glm::dot(right, corner), glm::dot(up, corner), glm::dot(back, corner));
    least = glm::min(least, seen);
    most = glm::max(most, seen);
  }
  const glm::vec3 size = most - least;
  const glm::vec3 middle = (most + least) / 2.0F;
  const glm::vec3 scale(2 / size.x, 2 / size.y, -2 / size.z);
  Frame frame;
  const std::array<glm::vec3, 3> axes{right, up, back};
  for (int row = 0; row < 3; ++row) {
    for (int column = 0; column < 3; ++column)
      frame.clipFromWall[column][row] = scale[row] * axes[static_cast<std::size_t>(row)][column];
    frame.clipFromWall[3][row] = -scale[row] * middle[row];
  }
  frame.size_mm = {size.x, size.y};
  return frame;
}

glm::mat4 mapFromClip() {
  glm::mat4 half(0.5F);
  half[3] = glm::vec4(0.5F, 0.5F, 0.5F, 1);
  return half;
}

}  // namespace

glm::vec3 towardsKeyLight() { return glm::normalize(glm::vec3(-0.46F, 0.62F, 0.64F)); }

LightMaps::LightMaps()
    : shadow_program_({"copies.glsl", "depth.vert"}, {"depth.frag"}),
      height_program_({"copies.glsl", "depth.vert"}, {"height.frag"}),
      shadows_(Texture::make()),
      shadow_target_(Framebuffer::make()),
      heights_(Texture::make()),
      height_depths_(Renderbuffer::make()),
      height_target_(Framebuffer::make()),
      neighbour_program_({"whole_picture.vert"}, {"neighbours.frag"}),
      empty_array_(VertexArray::make()),
      neighbours_(Texture::make()),
      neighbour_target_(Framebuffer::make()) {
  makeShadowTarget(shadows_, shadow_target_);
  makeHeightTarget(heights_, height_depths_, height_target_);
  makeColourTarget(neighbours_, GL_RGBA16F, neighbour_side_px, neighbour_target_);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

void LightMaps::update(const PanelGrid& panels, float highest_mm, const Draw& draw) {
  const glm::vec3 low(-overhang_mm, -overhang_mm, -panels.thickness_mm);
  const glm::vec3 high(panels.width_mm() + overhang_mm, panels.height_mm() + overhang_mm, highest_mm);
  const Frame frame = lightFrame(low, high);
  clipFromWallOfLight_ = frame.clipFromWall;
  light_size_mm_ = frame.size_mm;
  height_origin_mm_ = glm::vec2(low);
  height_size_mm_ = glm::vec2(high - low);
  clipFromWallHeadOn_ = headOnView({glm::dvec2(low), glm::dvec2(high)}, 1, 1).clipFromWall;
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LESS);
  glDepthMask(GL_TRUE);
  glDisable(GL_BLEND);
  drawShadows(draw);
  drawHeights(draw);
  drawNeighbours();
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

void LightMaps::drawShadows(const Draw& draw) {
  const float far = 1;
  glBindFramebuffer(GL_FRAMEBUFFER, shadow_target_.name());
  glViewport(0, 0, shadow_side_px, shadow_side_px);
  glClearBufferfv(GL_DEPTH, 0, &far);
  glEnable(GL_POLYGON_OFFSET_FILL);
  glPolygonOffset(2.0F, 6.0F);
  shadow_program_.use();
  shadow_program_.set("clipFromWall", clipFromWallOfLight_);
  draw(shadow_program_);
  glDisable(GL_POLYGON_OFFSET_FILL);
}

void LightMaps::drawHeights(const Draw& draw) {
  const float far = 1;
  const std::array<float, 4> nothing{};
  glActiveTexture(GL_TEXTURE0);
  glBindFramebuffer(GL_FRAMEBUFFER, height_target_.name());
  glViewport(0, 0, height_side_px, height_side_px);
  glClearBufferfv(GL_DEPTH, 0, &far);
  glClearBufferfv(GL_COLOR, 0, nothing.data());
  height_program_.use();
  height_program_.set("clipFromWall", clipFromWallHeadOn_);
  draw(height_program_);
  glBindTexture(GL_TEXTURE_2D, heights_.name());
  glGenerateMipmap(GL_TEXTURE_2D);
}

void LightMaps::drawNeighbours() {
  glBindFramebuffer(GL_FRAMEBUFFER, neighbour_target_.name());
  glViewport(0, 0, neighbour_side_px, neighbour_side_px);
  glDisable(GL_DEPTH_TEST);
  glActiveTexture(GL_TEXTURE0);
  glBindTexture(GL_TEXTURE_2D, heights_.name());
  neighbour_program_.use();
  neighbour_program_.set("heightMap", 0);
  neighbour_program_.set("heightTexelMm", std::max(height_size_mm_.x, height_size_mm_.y) / height_side_px);
  glBindVertexArray(empty_array_.name());
  glDrawArrays(GL_TRIANGLES, 0, 3);
  glBindVertexArray(0);
}

void LightMaps::bind(const Program& program) const {
  glActiveTexture(GL_TEXTURE0 + shadow_unit);
  glBindTexture(GL_TEXTURE_2D, shadows_.name());
  glActiveTexture(GL_TEXTURE0 + neighbour_unit);
  glBindTexture(GL_TEXTURE_2D, neighbours_.name());
  glActiveTexture(GL_TEXTURE0);
  program.set("shadowMap", shadow_unit);
  program.set("neighbours", neighbour_unit);
  program.set("shadowFromWall", mapFromClip() * clipFromWallOfLight_);
  program.set("shadowTexel", 1.0F / shadow_side_px);
  program.set("shadowScale", 1.0F / light_size_mm_);
  program.set("heightOrigin", height_origin_mm_);
  program.set("heightScale", 1.0F / height_size_mm_);
  program.set("towardsLight", towardsKeyLight());
}

}  // namespace petalproof::gl
