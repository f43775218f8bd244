#pragma once
// Draws whole pictures of the wall: large pictures for files and for printing, tile by tile, and small
// pictures at once. The window and tests call it.

#include "viewer/gl/lens_blur.h"
#include "viewer/gl/wall_renderer.h"

#include "engine/base/image.h"

#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

namespace petalproof::gl {

constexpr int longest_picture_px = 8192;  // of a side: a print of 27 in at 300 dpi

// Draws the view as a picture of up to longest_picture_px a side, tile by tile, so that the caller can report
// progress and stop. `spread`: blurs the picture as the lens does.
class TiledPicture {
 public:
  TiledPicture(const View& view, const Look& look, const std::optional<LensSpread>& spread = {});

  // Draws the next tile; false once all tiles are drawn.
  bool step(WallRenderer& wall);
  double share() const;  // of the tiles drawn, 0 to 1
  Image take() { return std::move(picture_); }

 private:
  struct Tile {
    int left = 0;
    int top = 0;
    int width = 0;
    int height = 0;
  };
  void place(const Image& from, const Tile& tile);

  View view_;
  Look look_;
  std::optional<LensSpread> spread_;
  int margin_ = 0;  // px around each tile, which the blur of its rim needs
  std::vector<Tile> tiles_;
  std::size_t next_ = 0;
  Canvas canvas_;
  Canvas blurred_;
  std::optional<LensBlur> blur_;
  Image picture_;
};

// Draws all tiles.
Image drawPicture(WallRenderer& wall, const View& view, const Look& look,
                  const std::optional<LensSpread>& spread = {});

// Draws a picture without tiles and leaves it on the canvas.
void drawOnto(Canvas& canvas, WallRenderer& wall, const View& view, const Look& look);

}  // namespace petalproof::gl
