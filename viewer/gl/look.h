#pragma once

#include "viewer/gl/wall_marks.h"

#include "engine/base/colour.h"

namespace petalproof::gl {

// What is shown, and how.
struct Look {
  bool room = true;  // the room around the wall; else `paper` around it. Head-on: never a room
  Colour paper{250, 247, 241};
  float people = 0;  // how solid they are, 0 (not there) to 1
  bool marks = false;
  bool heat = false;        // the wall paler, under the counts
  bool signs = true;        // what is chosen or new stands out
  bool keep_light = false;  // shadows as they were last, while the wall is being changed
  float coarse_px = 0;      // for pictures in motion: blooms' corners may be off by so much
  float pale = 0;           // blooms towards white paper, 0 to 1
  MarkInk ink;
  Colour chosen{52, 96, 168};
  Colour added{255, 222, 120};
};

}  // namespace petalproof::gl
