#pragma once
// A mask that the cover kernels draw into: upright strips of 64 pixels, each with the words of its rows in
// sequence, so that a kernel writes several rows of a triangle at once.

#include "engine/visibility/pixel_mask.h"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::visibility {

class StripMask {
 public:
  static constexpr int strip_px = PixelMask::word_px;

  // Clears the mask.
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
  static constexpr std::size_t spare_rows = 8;  // a kernel's vectors of up to 4 words reach past the last row

 private:
  std::size_t pitch() const { return static_cast<std::size_t>(height_px_) + spare_rows; }

  int width_px_ = 0;
  int height_px_ = 0;
  std::vector<std::uint64_t> words_;
};

}  // namespace petalproof::visibility
