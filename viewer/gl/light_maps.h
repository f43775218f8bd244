#pragma once
// Maps for the light on the wall, drawn once for a scene by WallRenderer: the heights that the key light
// meets first (a shadow map), the shadow of the whole wall on the room, and the wall's average height around
// each place (for the even light).
//
// The key light's rays are parallel and project every place onto the board plane; of two places on a ray the
// higher is met first. The shadow map holds the mean of the met heights and the mean of their squares (W.
// Donnelly and A. Lauritzen, Variance Shadow Maps, I3D 2006). Both may be averaged before they are read, so
// that a single reading gives a soft shadow.

#include "viewer/gl/handle.h"
#include "viewer/gl/program.h"

#include "engine/scene/scene.h"

#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <functional>

namespace petalproof::gl {

// The unit vector from the wall towards the key light, which is at the upper left in front. Wall frame.
glm::vec3 towardsKeyLight();

class LightMaps {
 public:
  LightMaps();

  // Draws the maps. `draw`: draws the wall's copies with the program in use; called for both maps of heights.
  using Draw = std::function<void(const Program&)>;
  void update(const scene::PanelGrid& panels, float highest_mm, const Draw& draw);

  // Binds the maps to the program in use, which includes light.glsl, at the texture units 1, 2 and 5.
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
  glm::vec2 shadow_heights_{1, 0};  // factor and summand that convert mm to -1 to 1
  float highest_mm_ = 1;
  glm::vec2 height_origin_mm_{0.0F};
  glm::vec2 height_size_mm_{1.0F};
};

}  // namespace petalproof::gl
