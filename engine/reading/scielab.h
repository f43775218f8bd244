#pragma once
// S-CIELAB: what of a picture's colours the eye still tells apart at a viewing distance.
// X. Zhang, B. A. Wandell, "A spatial extension of CIELAB for digital color image reproduction", SID
// Symposium Digest 27, 1996; J. SID 5(1), 1997. Colours are split into one light-dark and two colour planes,
// each is blurred as the eye does, and the CIE 1976 difference is taken of what comes out.
//
// Kernels: the paper's weights and spreads, sampled at pixel centres, cut at half a degree each way and
// normalised again. (The 4.3-degree Gaussian is nearly a box inside that window.) Beyond its edge a picture
// goes on as its last pixel.

#include "engine/base/image.h"

#include <glm/mat3x3.hpp>
#include <glm/vec3.hpp>

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::reading {

// Light-dark, red-green, blue-yellow. The matrix of the authors' program; copies of the paper print the
// third number of the second row with the wrong sign.
glm::dvec3 opponentFromXyz(const glm::dvec3& xyz);
glm::dvec3 xyzFromOpponent(const glm::dvec3& opponent);
// Straight from and to what pictures need.
glm::vec3 opponentFromLinear(const glm::vec3& linear_rgb);
glm::vec3 labFromOpponent(const glm::vec3& opponent);
glm::mat3 relativeXyzFromOpponent();  // XYZ as shares of white's

// exp(-(x^2 + y^2) / s^2) on pixels, as a row of taps used both ways.
struct EyeGaussian {
  float weight = 1;         // share in its plane's kernel
  std::vector<float> taps;  // from the middle outwards; taps[0] + 2 * (the others) = 1
};

struct EyeKernels {
  double pixels_per_degree = 0;
  int radius_px = 0;  // of the widest
  std::array<std::vector<EyeGaussian>, 3> planes;
};
// Errors: none; under 2 pixels a degree the eye sees every pixel as it is.
EyeKernels eyeKernels(double pixels_per_degree);

// Three planes of one picture, each row-major from the top left.
struct Planes {
  int width_px = 0;
  int height_px = 0;
  std::array<std::vector<float>, 3> plane;

  Planes() = default;
  Planes(int width, int height) { resize(width, height); }  // all 0
  void resize(int width, int height);  // keeps its memory where that is enough; values are then any
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

// Opponent planes as the eye sees them, on the tiles wanted; elsewhere any. The same for any number of
// threads.
void seeByEye(const Planes& opponent, const EyeKernels& kernels, const TileSet& wanted, int threads,
              Planes& seen);

// The same of a small picture that stands in darkness (0 all round).
Planes seenByEyeAlone(const Planes& opponent, const EyeKernels& kernels);

// The S-CIELAB difference of two pictures of one size, per pixel.
std::vector<float> scielabDifference(const LinearImage& a, const LinearImage& b, double pixels_per_degree,
                                     int threads = 0);

}  // namespace petalproof::reading
