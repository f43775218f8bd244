#pragma once
// Finds the first of a shot's changes after which no gap shows; adviseOn calls it for each shot.

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

// First looks at the largest change of each kind and direction, with as few pixels as the picture is viewed
// with: where even that change leaves too many gaps showing, smaller ones of its kind are skipped (rarely a
// change between would do better; then it isn't found). Then tries the other changes, small ones first; a
// change after which none shows is counted again at the shot's own size. `progress`: the share done.
ShotAdvice remedyFor(const RemedyTask& task, const ShotReader& read,
                     const std::function<void(double)>& progress);

}  // namespace petalproof::advice
