#pragma once
// The first of a shot's changes that leaves no gap showing.

#include "engine/advice/advice.h"
#include "engine/camera/camera.h"

#include <functional>
#include <vector>

namespace petalproof::advice {

struct RemedyTask {
  const AskedShot& asked;
  const std::vector<ShotChange>& changes;  // in the order in which they are preferred
  camera::WallFrame wall;
  scene::SceneColours colours;
};

// Of each kind and direction the largest change is looked at first, with as few pixels as the picture is
// looked at with: where even that leaves too many holes showing, smaller ones of it are passed over (a change
// between may do better, rarely: then it isn't found). Then the changes that are left, small ones first; what
// leaves none showing there is counted again at the shot's own size. `progress`: the share done.
ShotAdvice remedyFor(const RemedyTask& task, const ShotReader& read,
                     const std::function<void(double)>& progress);

}  // namespace petalproof::advice
