#pragma once
// Draws over the wall in how many shots each place is seen bare. WallRenderer owns it.

#include "viewer/gl/handle.h"
#include "viewer/gl/program.h"
#include "viewer/gl/view.h"

#include "engine/base/colour.h"
#include "engine/gaps/bare_map.h"

namespace petalproof::gl {

// Drawn over everything else: the more shots see a place bare, the darker its colour.
class HeatLayer {
 public:
  HeatLayer();
  // `shots`: of the plan. A map without cells draws nothing.
  void set(const gaps::BareMap& map, int shots);
  void draw(const View& view) const;

 private:
  Program program_;
  VertexArray array_;
  Texture counts_;
  glm::vec4 frame_mm_{0.0F};
  float all_shots_ = 0;
};

// The colour of a place that `shots` of `all_shots` see bare.
Colour heatColour(int shots, int all_shots);

}  // namespace petalproof::gl
