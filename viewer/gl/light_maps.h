#pragma once
// What the light needs to know of the wall, drawn once for a scene: what the key light meets first (a shadow
// map), the shadow of the whole wall on the room, and how far the wall stands out on average about each place
// (the even light).
//
// The key light's rays are parallel and carry every place onto the board plane; which of two things along a
// ray is met first their heights decide. The shadow map keeps the mean height of what is met and the mean of
// its square (Donnelly and Lauritzen, Variance Shadow Maps, I3D 2006), which may be averaged before they are
// read: one soft reading does.

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
  void update(const scene::PanelGrid& panels, float highest_mm, const Draw& draw);

  // For a program in use that has light.glsl; takes the texture units 1, 2 and 5.
  void bind(const Program& program) const;

  // A rectangle of the board plane that a map covers.
  struct Frame {
    glm::vec2 origin_mm{0.0F};
    glm::vec2 size_mm{1.0F};
  };

 private:
  void drawShadows(const Draw& draw);
  void drawHeights(const Draw& draw);
  void drawNeighbours();
  void drawWallShadow();

  Program shadow_program_;
  Program height_program_;
  Texture shadows_;
  Renderbuffer shadow_depths_;
  Framebuffer shadow_target_;
  Texture heights_;
  Renderbuffer height_depths_;
  Framebuffer height_target_;
  Program neighbour_program_;
  Program wall_shadow_program_;
  VertexArray empty_array_;
  Texture neighbours_;
  Framebuffer neighbour_target_;
  Texture wall_shadow_;
  Framebuffer wall_shadow_target_;
  glm::mat4 clipFromWallOfLight_{1.0F};
  glm::mat4 clipFromWallHeadOn_{1.0F};
  Frame shadow_frame_;
  Frame wall_shadow_frame_;
  glm::vec2 shadow_heights_{1, 0};  // mm to -1 to 1: factor, then added
  float highest_mm_ = 1;
  glm::vec2 height_origin_mm_{0.0F};
  glm::vec2 height_size_mm_{1.0F};
};

}  // namespace petalproof::gl
