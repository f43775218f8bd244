#pragma once
// A picture of one bit a pixel: the pixels that are bare, or covered. The rasteriser writes it; the gaps, the
// checks of builds and the fillings read it.

#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::visibility {

// Row-major from the top left; bit x % 64 of word x / 64 of a row is pixel x. Bits right of the picture are
// 0.
struct PixelMask {
  int width_px = 0;
  int height_px = 0;
  std::vector<std::uint64_t> words;

  static constexpr int word_px = 64;
  int wordsARow() const { return (width_px + word_px - 1) / word_px; }
  const std::uint64_t* row(int y) const { return words.data() + wordOf(y); }
  std::uint64_t* row(int y) { return words.data() + wordOf(y); }
  bool has(int x, int y) const { return (row(y)[x / word_px] >> (x % word_px) & 1U) != 0; }

 private:
  std::size_t wordOf(int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(wordsARow());
  }
};

}  // namespace petalproof::visibility
