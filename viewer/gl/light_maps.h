#pragma once
// What the light needs to know of the wall, drawn once for a scene: which places the key light reaches (a
// shadow map) and how far the wall stands out on average about each (the even light).

#include "viewer/gl/handle.h"
#include "viewer/gl/program.h"

#include "engine/scene/scene.h"

#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <functional>

namespace petalproof::gl {

// Unit, wall frame, from the wall towards the key light: upper left, in front.
glm::vec3 towardsKeyLight();

class LightMaps {
 public:
  LightMaps();

  // `draw` is called with a program in use that takes copies, for each of both maps.
  using Draw = std::function<void(const Program&)>;
  void update(const PanelGrid& panels, float highest_mm, const Draw& draw);

  // For a program in use that has light.glsl; takes the texture units 1 and 2.
  void bind(const Program& program) const;

 private:
  void drawShadows(const Draw& draw);
  void drawHeights(const Draw& draw);
  void drawNeighbours();

  Program shadow_program_;
  Program height_program_;
  Texture shadows_;
  Framebuffer shadow_target_;
  Texture heights_;
  Renderbuffer height_depths_;
  Framebuffer height_target_;
  Program neighbour_program_;
  VertexArray empty_array_;
  Texture neighbours_;
  Framebuffer neighbour_target_;
  glm::mat4 clipFromWallOfLight_{1.0F};
  glm::mat4 clipFromWallHeadOn_{1.0F};
  glm::vec2 light_size_mm_{1.0F};
  glm::vec2 height_origin_mm_{0.0F};
  glm::vec2 height_size_mm_{1.0F};
};

}  // namespace petalproof::gl
