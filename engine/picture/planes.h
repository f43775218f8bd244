#pragma once
// A picture as three planes of numbers, and the tiles of it that are worth working on.

#include "engine/base/pool.h"

#include <glm/vec3.hpp>

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::picture {

// Three planes of one picture, each row-major from the top left.
struct Planes {
  int width_px = 0;
  int height_px = 0;
  std::array<std::vector<float>, 3> plane;

  Planes() = default;
  Planes(int width, int height);  // all 0
  // Keeps its memory where that is enough; values are then any.
  void resize(int width, int height, const Pool& pool);
  std::size_t offset(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width_px) + static_cast<std::size_t>(x);
  }
  glm::vec3 at(std::size_t offset) const { return {plane[0][offset], plane[1][offset], plane[2][offset]}; }
  void set(std::size_t offset, const glm::vec3& values) {
    for (std::size_t p = 0; p < 3; ++p) plane[p][offset] = values[static_cast<int>(p)];
  }
};

// Which tiles of a picture are worth working on; 64 x 64 pixels each.
class TileSet {
 public:
  static constexpr int size_px = 64;

  TileSet() = default;
  TileSet(int width_px, int height_px, bool all = false);
  int columns() const { return columns_; }
  int rows() const { return rows_; }
  bool has(int column, int row) const { return wanted_[index(column, row)] != 0; }
  // Every tile that holds a pixel of [x0, x1) x [y0, y1), cut to the picture.
  void add(int x0, int y0, int x1, int y1);
  void addAll(const TileSet& other);

 private:
  std::size_t index(int column, int row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
           static_cast<std::size_t>(column);
  }
  int columns_ = 0;
  int rows_ = 0;
  std::vector<std::uint8_t> wanted_;
};

}  // namespace petalproof::picture
