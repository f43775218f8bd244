#pragma once
#include "viewer/gl/lens_blur.h"
#include "viewer/gl/wall_renderer.h"

#include "engine/base/image.h"

#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

namespace petalproof::gl {

constexpr int longest_picture_px = 8192;

// The view as a picture of up to 8,192 pixels a side, drawn tile by tile, so that whoever waits can be told
// how far it is and can stop. `spread`: as the lens blurs it.
class TiledPicture {
 public:
  TiledPicture(const View& view, const Look& look, const std::optional<LensSpread>& spread = {});

  // Draws the next tile; false where all are drawn.
  bool step(WallRenderer& wall);
  double share() const;  // done, 0 to 1
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
  int margin_ = 0;  // around each tile, that the blur of its rim needs
  std::vector<Tile> tiles_;
  std::size_t next_ = 0;
  Canvas canvas_;
  Canvas blurred_;
  std::optional<LensBlur> blur_;
  Image picture_;
};

// The same at once.
Image drawPicture(WallRenderer& wall, const View& view, const Look& look,
                  const std::optional<LensSpread>& spread = {});

// A small picture in one go, its pixels still with OpenGL.
void drawOnto(Canvas& canvas, WallRenderer& wall, const View& view, const Look& look);

}  // namespace petalproof::gl
