#pragma once
#include "viewer/gl/handle.h"
#include "viewer/gl/program.h"
#include "viewer/gl/view.h"

#include "engine/base/colour.h"
#include "engine/gaps/bare_map.h"

namespace petalproof::gl {

// In how many shots each place of the wall is seen bare, over everything else: the more shots, the darker.
class HeatLayer {
 public:
  HeatLayer();
  // `shots`: in all. A map without a cell shows nothing.
  void set(const gaps::BareMap& map, int shots);
  void draw(const View& view) const;

 private:
  Program program_;
  VertexArray array_;
  Texture counts_;
  glm::vec4 frame_mm_{0.0F};
  float most_ = 0;
};

// The colour of what so many of all shots see bare, as it is drawn.
Colour heatColour(int shots, int all_shots);

}  // namespace petalproof::gl
