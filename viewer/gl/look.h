#pragma once
// How WallRenderer draws the wall: which parts, in which colours and how carefully. Views of the window and
// pictures for files fill it in.

#include "viewer/gl/wall_marks.h"

#include "engine/base/colour.h"

namespace petalproof::gl {

struct Look {
  bool room = true;  // draw the room around the wall, never head-on; false: a background of `paper`
  Colour paper{250, 247, 241};
  float people = 0;  // their opacity, 0 (left out) to 1
  bool marks = false;
  bool heat = false;        // draw the heat layer over a paler wall
  bool signs = true;        // highlight chosen and new blooms
  bool keep_light = false;  // keep the last shadows while the wall is being changed
  float coarse_px = 0;      // how far blooms' corners may be off, for pictures in motion
  float pale = 0;           // how far blooms fade towards white paper, 0 to 1
  MarkInk ink;
  Colour chosen{52, 96, 168};
  Colour added{255, 222, 120};
};

}  // namespace petalproof::gl
