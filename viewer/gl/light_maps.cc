#include "viewer/gl/light_maps.h"

#include "viewer/gl/view.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace petalproof::gl {
namespace {

// Sides of the maps: about 2 mm a pixel for the shadows on a usual wall; the other maps hold soft averages.
constexpr int shadow_side_px = 2048;
constexpr int wall_shadow_side_px = 256;
constexpr int height_side_px = 1024;
constexpr int neighbour_side_px = 512;
// Blooms hang over the wall's edges.
constexpr float overhang_mm = 300;
// The radius over which the shadow of the whole wall on the room is softened; set by eye.
constexpr float wall_shadow_reach_mm = 210;
constexpr float nothing_mm = -60;  // the shadow map's height where the light meets nothing; below every board
constexpr int shadow_unit = 1;
constexpr int neighbour_unit = 2;
constexpr int wall_shadow_unit = 5;

// Formats have at most 32 bits a pixel: graphics cards read them twice as fast as wider formats.
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

// A map of heights that is averaged into coarser levels.
void makeHeightTarget(const Texture& heights, GLint format, int side_px, const Renderbuffer& depths,
                      const Framebuffer& target) {
  makeColourTarget(heights, format, side_px, target);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
  glBindRenderbuffer(GL_RENDERBUFFER, depths.name());
  glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH_COMPONENT24, side_px, side_px);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, depths.name());
}

// How far a place moves over the board plane with each mm towards the light.
glm::vec2 lightSlope() {
  const glm::vec3 towards = towardsKeyLight();
  return glm::vec2(towards) / towards.z;
}

// The rectangle of the board plane onto which the light's rays project a box of the wall frame.
LightMaps::Frame lightFrame(const glm::vec3& low, const glm::vec3& high) {
  constexpr float far_mm = 1e9F;  // beyond every wall
  glm::vec2 least(far_mm);
  glm::vec2 most(-far_mm);
  for (int k = 0; k < 8; ++k) {
    const glm::vec3 corner((k & 1) != 0 ? high.x : low.x, (k & 2) != 0 ? high.y : low.y,
                           (k & 4) != 0 ? high.z : low.z);
    const glm::vec2 met = glm::vec2(corner) - corner.z * lightSlope();
    least = glm::min(least, met);
    most = glm::max(most, met);
  }
  return {least, most - least};
}

// Projects along the light: `frame` fills the clip space, and places farther out from the board are nearer.
glm::mat4 clipFromWallAlongLight(const LightMaps::Frame& frame, float lowest_mm, float highest_mm) {
  glm::mat4 clipFromWall(1.0F);
  const glm::vec2 slope = lightSlope();
  for (int k = 0; k < 2; ++k) {
    const float scale = 2 / frame.size_mm[k];
    clipFromWall[k][k] = scale;
    clipFromWall[2][k] = -scale * slope[k];
    clipFromWall[3][k] = -1 - scale * frame.origin_mm[k];
  }
  const float reach = highest_mm - lowest_mm + 2;  // a mm of room at either end
  clipFromWall[2][2] = -2 / reach;
  clipFromWall[3][2] = (highest_mm + lowest_mm) / reach;
  return clipFromWall;
}

}  // namespace

glm::vec3 towardsKeyLight() { return glm::normalize(glm::vec3(-0.46F, 0.62F, 0.64F)); }

LightMaps::LightMaps()
    : shadow_program_({"copies.glsl", "depth.vert"}, {"shadow.frag"}),
      height_program_({"copies.glsl", "depth.vert"}, {"height.frag"}),
      shadows_(Texture::make()),
      shadow_depths_(Renderbuffer::make()),
      shadow_target_(Framebuffer::make()),
      heights_(Texture::make()),
      height_depths_(Renderbuffer::make()),
      height_target_(Framebuffer::make()),
      neighbour_program_({"whole_picture.vert"}, {"neighbours.frag"}),
      wall_shadow_program_({"whole_picture.vert"}, {"wall_shadow.frag"}),
      empty_array_(VertexArray::make()),
      neighbours_(Texture::make()),
      neighbour_target_(Framebuffer::make()),
      wall_shadow_(Texture::make()),
      wall_shadow_target_(Framebuffer::make()) {
  makeHeightTarget(shadows_, GL_RG16, shadow_side_px, shadow_depths_, shadow_target_);
  // light.glsl reads a single level of the shadow map.
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_NEAREST);
  makeHeightTarget(heights_, GL_R16F, height_side_px, height_depths_, height_target_);
  makeColourTarget(neighbours_, GL_RGB10_A2, neighbour_side_px, neighbour_target_);
  makeColourTarget(wall_shadow_, GL_R8, wall_shadow_side_px, wall_shadow_target_);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

void LightMaps::update(const scene::PanelGrid& panels, float highest_mm, const Draw& draw) {
  const auto lowest_mm = static_cast<float>(-panels.thickness_mm);
  const glm::vec3 low(-overhang_mm, -overhang_mm, lowest_mm);
  const glm::vec3 high(panels.width_mm() + overhang_mm, panels.height_mm() + overhang_mm, highest_mm);
  shadow_frame_ = lightFrame(low, high);
  clipFromWallOfLight_ = clipFromWallAlongLight(shadow_frame_, lowest_mm, highest_mm);
  highest_mm_ = std::max(highest_mm, 1.0F);
  shadow_heights_.x = 2 / (highest_mm_ - nothing_mm);
  shadow_heights_.y = -1 - nothing_mm * shadow_heights_.x;
  height_origin_mm_ = glm::vec2(low);
  height_size_mm_ = glm::vec2(high - low);
  clipFromWallHeadOn_ = headOnView({glm::dvec2(low), glm::dvec2(high)}, 1, 1).clipFromWall;
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LESS);
  glDepthMask(GL_TRUE);
  glDisable(GL_BLEND);
  drawShadows(draw);
  drawHeights(draw);
  glDisable(GL_DEPTH_TEST);
  glBindVertexArray(empty_array_.name());
  drawNeighbours();
  drawWallShadow();
  glBindVertexArray(0);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

void LightMaps::drawShadows(const Draw& draw) {
  const float far = 1;
  const std::array<float, 4> nothing{0, 1, 0, 0};
  glActiveTexture(GL_TEXTURE0);
  glBindFramebuffer(GL_FRAMEBUFFER, shadow_target_.name());
  glViewport(0, 0, shadow_side_px, shadow_side_px);
  glClearBufferfv(GL_DEPTH, 0, &far);
  glClearBufferfv(GL_COLOR, 0, nothing.data());
  shadow_program_.use();
  shadow_program_.set("clipFromWall", clipFromWallOfLight_);
  shadow_program_.set("shadowHeights", shadow_heights_);
  draw(shadow_program_);
  glBindTexture(GL_TEXTURE_2D, shadows_.name());
  glGenerateMipmap(GL_TEXTURE_2D);
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
  glActiveTexture(GL_TEXTURE0);
  glBindTexture(GL_TEXTURE_2D, heights_.name());
  neighbour_program_.use();
  neighbour_program_.set("heightMap", 0);
  neighbour_program_.set("heightTexelMm", std::max(height_size_mm_.x, height_size_mm_.y) / height_side_px);
  neighbour_program_.set("top", highest_mm_);
  glDrawArrays(GL_TRIANGLES, 0, 3);
}

// The map of the whole wall's shadow, with a rim in which it fades.
void LightMaps::drawWallShadow() {
  const float beside =
      1.1F * wall_shadow_reach_mm;  // a little beyond the reach: the shadow ends within the map
  wall_shadow_frame_ = {shadow_frame_.origin_mm - beside, shadow_frame_.size_mm + 2 * beside};
  glBindFramebuffer(GL_FRAMEBUFFER, wall_shadow_target_.name());
  glViewport(0, 0, wall_shadow_side_px, wall_shadow_side_px);
  glActiveTexture(GL_TEXTURE0);
  glBindTexture(GL_TEXTURE_2D, shadows_.name());
  wall_shadow_program_.use();
  wall_shadow_program_.set("shadowMap", 0);
  wall_shadow_program_.set("something", 0.25F * shadow_heights_.x * -nothing_mm);  // halfway to the board
  wall_shadow_program_.set("low",
                           (wall_shadow_frame_.origin_mm - shadow_frame_.origin_mm) / shadow_frame_.size_mm);
  wall_shadow_program_.set("size", wall_shadow_frame_.size_mm / shadow_frame_.size_mm);
  wall_shadow_program_.set("reach", wall_shadow_reach_mm / shadow_frame_.size_mm);
  glDrawArrays(GL_TRIANGLES, 0, 3);
}

void LightMaps::bind(const Program& program) const {
  const auto texture = [&](const char* name, const Texture& bound, int unit) {
    glActiveTexture(GL_TEXTURE0 + static_cast<GLenum>(unit));
    glBindTexture(GL_TEXTURE_2D, bound.name());
    program.set(name, unit);
  };
  texture("shadowMap", shadows_, shadow_unit);
  texture("neighbours", neighbours_, neighbour_unit);
  texture("wallShadow", wall_shadow_, wall_shadow_unit);
  glActiveTexture(GL_TEXTURE0);
  program.set("lightSlope", lightSlope());
  program.set("shadowHeights", shadow_heights_);
  program.set("neighbourTop", highest_mm_);
  program.set("shadowOrigin", shadow_frame_.origin_mm);
  program.set("shadowScale", 1.0F / shadow_frame_.size_mm);
  program.set("wallShadowOrigin", wall_shadow_frame_.origin_mm);
  program.set("wallShadowScale", 1.0F / wall_shadow_frame_.size_mm);
  program.set("heightOrigin", height_origin_mm_);
  program.set("heightScale", 1.0F / height_size_mm_);
  program.set("towardsLight", towardsKeyLight());
}

}  // namespace petalproof::gl
