#pragma once
// Draws a shot with its gaps marked; `--pictures` and the window call it.

#include "engine/base/image.h"
#include "engine/check/check.h"

#include <string>

namespace petalproof::report {

// About how many pixels a picture has, its sheet not counted: 1,800 x 1,200 or so.
constexpr double picture_area_px = 2.1e6;

// The shot, shaded, every gap outlined and each spot numbered as in the table, on a sheet that names shot,
// lens, distance and count, with a key of the outlines and a word on where the frame runs off the wall.
// `state`: the wall's state where pictures of several are made, as "with its fillers".
Image markedPicture(const check::ShotCheck& shot, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                    int threads = 0, double area_px = picture_area_px, const std::string& state = "");

}  // namespace petalproof::report
