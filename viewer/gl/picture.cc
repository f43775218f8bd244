#include "viewer/gl/picture.h"

#include <algorithm>

namespace petalproof::gl {
namespace {

constexpr int tile_px = 1024;    // drawn in a moment, also by the processor
constexpr int soft_edge_px = 2;  // lens_blur.frag's discs end softly

}  // namespace

void drawOnto(Canvas& canvas, WallRenderer& wall, const View& view, const Look& look) {
  canvas.resize(view.width_px, view.height_px);
  wall.draw(view, look, canvas);
  canvas.finish();
}

TiledPicture::TiledPicture(const View& view, const Look& look, const std::optional<LensSpread>& spread)
    : view_(view), look_(look), spread_(spread), blurred_(1) {
  if (spread_) {
    blur_.emplace();
    margin_ = blurReachPx(*spread_) + soft_edge_px;
  }
  for (int top = 0; top < view.height_px; top += tile_px)
    for (int left = 0; left < view.width_px; left += tile_px)
      tiles_.push_back(
          {left, top, std::min(tile_px, view.width_px - left), std::min(tile_px, view.height_px - top)});
  picture_ = {view.width_px, view.height_px, {}};
  picture_.rgb.resize(3 * static_cast<std::size_t>(view.width_px) * static_cast<std::size_t>(view.height_px));
}

double TiledPicture::share() const { return static_cast<double>(next_) / static_cast<double>(tiles_.size()); }

bool TiledPicture::step(WallRenderer& wall) {
  if (next_ >= tiles_.size()) return false;
  const Tile& tile = tiles_[next_++];
  const View part = partOf(view_, tile.left - margin_, tile.top - margin_, tile.width + 2 * margin_,
                           tile.height + 2 * margin_);
  canvas_.resize(part.width_px, part.height_px);
  wall.draw(part, look_, canvas_);
  canvas_.finish(spread_.has_value());
  if (blur_) blur_->draw(canvas_, part, *spread_, blurred_);
  place(blur_ ? blurred_.image() : canvas_.image(), tile);
  return next_ < tiles_.size();
}

// Copies the tile, without its margin, to its place in the picture.
void TiledPicture::place(const Image& from, const Tile& tile) {
  for (int row = 0; row < tile.height; ++row) {
    const auto* const source =
        from.rgb.data() + 3 * (static_cast<std::ptrdiff_t>(row + margin_) * from.width_px + margin_);
    auto* const target = picture_.rgb.data() +
                         3 * (static_cast<std::ptrdiff_t>(tile.top + row) * picture_.width_px + tile.left);
    std::copy_n(source, 3 * static_cast<std::ptrdiff_t>(tile.width), target);
  }
}

Image drawPicture(WallRenderer& wall, const View& view, const Look& look,
                  const std::optional<LensSpread>& spread) {
  TiledPicture picture(view, look, spread);
  while (picture.step(wall)) {
  }
  return picture.take();
}

}  // namespace petalproof::gl
