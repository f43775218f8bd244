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
#include "engine/base/opponent_colour.h"
#include "engine/picture/planes.h"

#include <glm/mat3x3.hpp>
#include <glm/vec3.hpp>

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::reading {

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

using picture::Planes;
using picture::TileSet;

// Opponent planes as the eye sees them, on the tiles wanted; elsewhere any. The same for any number of
// threads.
void seeByEye(const Planes& opponent, const EyeKernels& kernels, const TileSet& wanted, const Pool& pool,
              Planes& seen);

// The same of a small picture that stands in darkness (0 all round).
Planes seenByEyeAlone(const Planes& opponent, const EyeKernels& kernels);

// The S-CIELAB difference of two pictures of one size, per pixel.
std::vector<float> scielabDifference(const LinearImage& a, const LinearImage& b, double pixels_per_degree,
                                     const Pool& pool);

}  // namespace petalproof::reading
