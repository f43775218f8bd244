#pragma once
// Pictures with the gaps marked: each shot, and one map of the whole wall.

#include "engine/base/image.h"
#include "engine/base/pool.h"
#include "engine/check/check.h"

#include <string>

namespace petalproof::report {

// About how many pixels a picture has, its sheet not counted: 1,800 x 1,200 or so.
constexpr double picture_area_px = 2.1e6;

// The shot, shaded, every gap outlined and each spot numbered as in the table, on a sheet that names shot,
// lens, distance and count, with a key of the outlines and a word on where the frame runs off the wall.
// `state`: what is seen, where that isn't plain, as "with its fillers".
Image markedPicture(const check::ShotCheck& shot, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                    const Pool& pool, double area_px = picture_area_px, const std::string& state = "");

// The wall head-on with all places that any shot sees bare, the panels' names and tape measures from the
// left and the top edge.
Image wallMap(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
              const Pool& pool, double area_px = picture_area_px);

}  // namespace petalproof::report
