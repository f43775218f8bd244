#include "engine/reading/scielab.h"

#include "engine/base/colour_difference.h"
#include "engine/base/lab_curve.h"
#include "engine/base/picture_memory.h"
#include "engine/picture/row_loops.h"
#include "engine/reading/internal/lone_eye.h"

#include <glm/geometric.hpp>
#include <glm/mat3x3.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::reading {
namespace {

constexpr double cut_deg = 0.5;
// A tap below this share of the kernel is lost in single precision.
constexpr double least_tap = 1e-8;

struct Spread {
  double weight;
  double s_deg;
};

// Zhang and Wandell 1996, table of the kernels' parameters.
std::array<std::vector<Spread>, 3> publishedSpreads() {
  return {{{{0.921, 0.0283}, {0.105, 0.133}, {-0.108, 4.336}},
           {{0.531, 0.0392}, {0.330, 0.494}},
           {{0.488, 0.0536}, {0.371, 0.386}}}};
}

std::vector<float> tapsOf(double s_px, int radius) {
  std::vector<double> taps;
  double sum = 0;
  for (int k = 0; k <= radius; ++k) {
    taps.push_back(std::exp(-(k / s_px) * (k / s_px)));
    sum += k == 0 ? taps.back() : 2 * taps.back();
  }
  while (taps.size() > 1 && taps.back() < least_tap * sum) taps.pop_back();
  std::vector<float> normal;
  for (const double tap : taps) normal.push_back(static_cast<float>(tap / sum));
  return normal;
}

// A tile's pixels with what lies around them, and room to work in.
class TileFilter {
 public:
  explicit TileFilter(const EyeKernels& kernels) : kernels_(kernels) {}

  // Works on pixels [x0, x0 + width) x [y0, y0 + height).
  void see(const Planes& opponent, int x0, int y0, int width, int height, Planes& seen) {
    reset(width, height, kernels_.radius_px);
    for (std::size_t p = 0; p < 3; ++p) {
      copyAround(opponent.plane[p], opponent.width_px, opponent.height_px, x0, y0);
      apply(kernels_.planes[p], seen.plane[p].data() + seen.offset(x0, y0), seen.width_px);
    }
  }

 private:
  void reset(int width, int height, int margin) {
    width_ = width;
    height_ = height;
    margin_ = margin;
    stride_ = width + 2 * margin;
    around_.resize(static_cast<std::size_t>(stride_) * static_cast<std::size_t>(height + 2 * margin));
    across_.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height + 2 * margin));
  }

  // The picture goes on beyond its edge as its last pixel.
  void copyAround(const std::vector<float>& plane, int width, int height, int x0, int y0) {
    const int inside_from = std::clamp(x0 - margin_, 0, width);
    const int inside_to = std::clamp(x0 + width_ + margin_, 0, width);
    for (int row = 0; row < height_ + 2 * margin_; ++row) {
      const float* from =
          plane.data() + static_cast<std::ptrdiff_t>(std::clamp(y0 + row - margin_, 0, height - 1)) * width;
      float* to = aroundRow(row);
      float* inside = to + (inside_from - (x0 - margin_));
      std::fill(to, inside, from[0]);
      float* beyond = std::copy(from + inside_from, from + inside_to, inside);
      std::fill(beyond, to + stride_, from[width - 1]);
    }
  }

  float* aroundRow(int row) { return around_.data() + static_cast<std::ptrdiff_t>(row) * stride_; }

  // Writes the tile's pixels, rows `out_stride` apart.
  void apply(const std::vector<EyeGaussian>& kernel, float* out, std::ptrdiff_t out_stride) {
    for (int y = 0; y < height_; ++y) std::fill_n(out + y * out_stride, width_, 0.0F);
    for (const EyeGaussian& gaussian : kernel) {
      const int reach = static_cast<int>(gaussian.taps.size()) - 1;
      const int taps = reach + 1;
      for (int row = margin_ - reach; row < margin_ + height_ + reach; ++row) {
        std::fill_n(acrossRow(row), width_, 0.0F);
        picture::addSymmetric(aroundRow(row) + margin_, 1, gaussian.taps.data(), taps, 1.0F, acrossRow(row),
                              width_);
      }
      for (int y = 0; y < height_; ++y)
        picture::addSymmetric(acrossRow(y + margin_), width_, gaussian.taps.data(), taps, gaussian.weight,
                              out + y * out_stride, width_);
    }
  }

  float* acrossRow(int row) { return across_.data() + static_cast<std::ptrdiff_t>(row) * width_; }

  const EyeKernels& kernels_;
  int width_ = 0;
  int height_ = 0;
  int margin_ = 0;
  int stride_ = 0;
  std::vector<float> around_;
  std::vector<float> across_;
};

// Tiles worked on at a time, each way: what lies around them costs less.
constexpr int tiles_a_block = 2;

bool anyIn(const TileSet& wanted, int column, int row) {
  bool any = false;
  for (int r = row; r < std::min(row + tiles_a_block, wanted.rows()); ++r)
    for (int c = column; c < std::min(column + tiles_a_block, wanted.columns()); ++c)
      any = any || wanted.has(c, r);
  return any;
}

Planes opponentOf(const LinearImage& image) {
  Planes planes(image.width_px, image.height_px);
  for (std::size_t k = 0; k < image.pixels.size(); ++k) planes.set(k, opponentFromLinear(image.pixels[k]));
  return planes;
}

}  // namespace

EyeKernels eyeKernels(double pixels_per_degree) {
  EyeKernels kernels;
  kernels.pixels_per_degree = pixels_per_degree;
  const int radius = static_cast<int>(std::floor(cut_deg * pixels_per_degree));
  const auto spreads = publishedSpreads();
  for (std::size_t p = 0; p < 3; ++p) {
    double sum = 0;
    for (const Spread& spread : spreads[p]) sum += spread.weight;
    for (const Spread& spread : spreads[p]) {
      kernels.planes[p].push_back(
          {static_cast<float>(spread.weight / sum), tapsOf(spread.s_deg * pixels_per_degree, radius)});
      kernels.radius_px =
          std::max(kernels.radius_px, static_cast<int>(kernels.planes[p].back().taps.size()) - 1);
    }
  }
  return kernels;
}

void seeByEye(const Planes& opponent, const EyeKernels& kernels, const TileSet& wanted, const Pool& pool,
              Planes& seen) {
  const int columns = (wanted.columns() + tiles_a_block - 1) / tiles_a_block;
  const int rows = (wanted.rows() + tiles_a_block - 1) / tiles_a_block;
  constexpr int side = tiles_a_block * TileSet::size_px;
  seen.resize(opponent.width_px, opponent.height_px, pool);
  pool.forEachWith<TileFilter>(
      static_cast<std::size_t>(columns * rows), kernels, [&](std::size_t k, TileFilter& filter) {
        const int column = static_cast<int>(k) % columns;
        const int row = static_cast<int>(k) / columns;
        if (!anyIn(wanted, column * tiles_a_block, row * tiles_a_block)) return;
        filter.see(opponent, column * side, row * side, std::min(side, opponent.width_px - column * side),
                   std::min(side, opponent.height_px - row * side), seen);
      });
}

Planes seenByEyeAlone(const Planes& opponent, const EyeKernels& kernels) {
  Planes seen(opponent.width_px, opponent.height_px);
  LoneEye eye;
  eye.reset(opponent.width_px, opponent.height_px, 1, kernels.radius_px);
  const std::vector<LoneEye::Wanted> all(static_cast<std::size_t>(opponent.height_px),
                                         {0, opponent.width_px});
  for (std::size_t p = 0; p < 3; ++p)
    eye.add(opponent.plane[p].data(), kernels.planes[p], all, seen.plane[p].data());
  return seen;
}

std::vector<float> scielabDifference(const LinearImage& a, const LinearImage& b, double pixels_per_degree,
                                     const Pool& pool) {
  const EyeKernels kernels = eyeKernels(pixels_per_degree);
  const TileSet all(a.width_px, a.height_px, true);
  Planes seen_a;
  Planes seen_b;
  seeByEye(opponentOf(a), kernels, all, pool, seen_a);
  seeByEye(opponentOf(b), kernels, all, pool, seen_b);
  std::vector<float> difference(a.pixels.size());
  for (std::size_t k = 0; k < difference.size(); ++k)
    difference[k] = glm::distance(labFromOpponent(seen_a.at(k)), labFromOpponent(seen_b.at(k)));
  return difference;
}

}  // namespace petalproof::reading
