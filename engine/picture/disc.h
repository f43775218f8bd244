#pragma once
// A disc as rows of chords: with rows of a picture as running sums (row_loops.h) blurring takes as many steps
// a pixel as the disc is high.

#include <cstddef>
#include <vector>

namespace petalproof::picture {

class Disc {
 public:
  // In pixels. Under a tenth of a pixel: the pixel itself.
  explicit Disc(double diameter_px);

  int reach() const { return reach_; }  // rows above and below the middle one
  // Half the chord of row `dy`, mean over the row's height.
  float halfChord(int dy) const { return half_chords_[static_cast<std::size_t>(dy < 0 ? -dy : dy)]; }
  float area() const { return area_; }

 private:
  int reach_ = 0;
  float area_ = 1;
  std::vector<float> half_chords_;
};

}  // namespace petalproof::picture
