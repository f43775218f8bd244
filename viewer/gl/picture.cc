#include "viewer/gl/picture.h"

#include <algorithm>
#include <cstddef>

namespace petalproof::gl {
namespace {

constexpr int tile_px = 1024;

struct Tile {
  int left = 0;
  int top = 0;
  int width = 0;
  int height = 0;
};

std::vector<Tile> tilesOf(const View& view) {
  std::vector<Tile> tiles;
  for (int top = 0; top < view.height_px; top += tile_px)
    for (int left = 0; left < view.width_px; left += tile_px)
      tiles.push_back(
          {left, top, std::min(tile_px, view.width_px - left), std::min(tile_px, view.height_px - top)});
  return tiles;
}

// What is `margin` pixels inside `from` goes to its place in `to`.
void place(const Image& from, int margin, const Tile& tile, Image& to) {
  for (int row = 0; row < tile.height; ++row) {
    const auto* const source =
        from.rgb.data() + 3 * (static_cast<std::ptrdiff_t>(row + margin) * from.width_px + margin);
    auto* const target =
        to.rgb.data() + 3 * (static_cast<std::ptrdiff_t>(tile.top + row) * to.width_px + tile.left);
    std::copy_n(source, 3 * static_cast<std::ptrdiff_t>(tile.width), target);
  }
}

}  // namespace

void drawOnto(Canvas& canvas, WallRenderer& wall, const View& view, const Look& look) {
  canvas.resize(view.width_px, view.height_px);
  wall.draw(view, look, canvas);
  canvas.finish();
}

std::optional<Image> drawPicture(WallRenderer& wall, const View& view, const Look& look,
                                 const std::optional<LensSpread>& spread,
                                 const std::function<bool(double)>& progress) {
  Image picture{view.width_px, view.height_px, {}};
  picture.rgb.resize(3 * static_cast<std::size_t>(view.width_px) * static_cast<std::size_t>(view.height_px));
  const int margin = spread ? blurReachPx(*spread) + 2 : 0;
  Canvas canvas;
  Canvas blurred(1);
  std::optional<LensBlur> blur;
  if (spread) blur.emplace();
  const std::vector<Tile> tiles = tilesOf(view);
  for (std::size_t k = 0; k < tiles.size(); ++k) {
    if (progress && !progress(static_cast<double>(k) / static_cast<double>(tiles.size())))
      return std::nullopt;
    const Tile& tile = tiles[k];
    const View part = partOf(view, tile.left - margin, tile.top - margin, tile.width + 2 * margin,
                             tile.height + 2 * margin);
    canvas.resize(part.width_px, part.height_px);
    wall.draw(part, look, canvas);
    canvas.finish(spread.has_value());
    if (blur) blur->draw(canvas, part, *spread, blurred);
    place(blur ? blurred.image() : canvas.image(), margin, tile, picture);
  }
  return picture;
}

}  // namespace petalproof::gl
