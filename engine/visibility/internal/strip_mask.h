#pragma once
// A mask while it is drawn into: the picture in upright strips of 64 pixels, the words of a strip's rows one
// after the other, so that several rows of a triangle are done at once.

#include "engine/visibility/pixel_mask.h"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::visibility {

class StripMask {
 public:
  static constexpr int strip_px = PixelMask::word_px;

  // Forgets what it held.
  void start(int width_px, int height_px) {
    width_px_ = width_px;
    height_px_ = height_px;
    words_.assign(strips() * pitch(), 0);
  }
  int widthPx() const { return width_px_; }
  int heightPx() const { return height_px_; }
  std::size_t strips() const { return static_cast<std::size_t>((width_px_ + strip_px - 1) / strip_px); }
  // The words of a strip from row y on; `spare_rows` words after its last row may be read and written.
  std::uint64_t* rows(int strip, int y) {
    return words_.data() + static_cast<std::size_t>(strip) * pitch() + static_cast<std::size_t>(y);
  }
  const std::uint64_t* rows(int strip, int y) const {
    return words_.data() + static_cast<std::size_t>(strip) * pitch() + static_cast<std::size_t>(y);
  }
  static constexpr std::size_t spare_rows = 8;

 private:
  std::size_t pitch() const { return static_cast<std::size_t>(height_px_) + spare_rows; }

  int width_px_ = 0;
  int height_px_ = 0;
  std::vector<std::uint64_t> words_;
};

}  // namespace petalproof::visibility
