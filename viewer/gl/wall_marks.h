#pragma once
// Draws the outlines of gaps as lines on the board plane, over everything else. Line styles, not colours,
// tell the classes of gaps apart. The views of the window set and draw them through WallRenderer.

#include "viewer/gl/handle.h"
#include "viewer/gl/program.h"
#include "viewer/gl/view.h"

#include "engine/base/colour.h"

#include <glm/vec2.hpp>

#include <cstdint>
#include <span>
#include <vector>

namespace petalproof::gl {

enum class LineStyle : std::uint32_t { solid = 0, dashed = 1, dotted = 2 };

struct WallMark {
  std::vector<glm::dvec2> outline_mm;  // on the board plane; a closed outline ends at its first place
  LineStyle style = LineStyle::solid;
  bool chosen = false;  // drawn wider, in its own colour
};

struct MarkInk {
  Colour ink{16, 42, 92};
  Colour halo{255, 255, 255};
  Colour chosen{176, 54, 28};
  float width_px = 2;
};

class WallMarks {
 public:
  WallMarks();
  void set(std::span<const WallMark> marks);
  void draw(const View& view, const MarkInk& ink) const;

 private:
  Program program_;
  VertexArray array_;
  Buffer corners_;
  GLsizei count_ = 0;
  glm::vec2 middle_mm_{0};  // of all marks
};

}  // namespace petalproof::gl
