#pragma once
#include "viewer/gl/lens_blur.h"
#include "viewer/gl/wall_renderer.h"

#include "engine/base/image.h"

#include <functional>
#include <optional>

namespace petalproof::gl {

constexpr int longest_picture_px = 8192;

// The view as a picture of up to 8,192 pixels a side, drawn tile by tile. `spread`: as the lens blurs it.
// `progress` is called with the share done, and ends the work by returning false; then there is no picture.
std::optional<Image> drawPicture(WallRenderer& wall, const View& view, const Look& look,
                                 const std::optional<LensSpread>& spread = {},
                                 const std::function<bool(double)>& progress = {});

// A small picture in one go, its pixels still with OpenGL.
void drawOnto(Canvas& canvas, WallRenderer& wall, const View& view, const Look& look);

}  // namespace petalproof::gl
