#include "engine/reading/internal/smooth_fill.h"

#include "engine/light/wide.h"

#include <algorithm>

namespace petalproof::reading {
namespace {

constexpr int most_sweeps = 28;
constexpr float over_relaxation = 1.6F;

std::size_t numbersOf(int width, int height, int depth) {
  return static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * static_cast<std::size_t>(depth);
}

std::size_t offsetOf(int x, int y, int width, int depth) {
  return (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)) *
         static_cast<std::size_t>(depth);
}

// Colours cross a hole in a few sweeps a pixel of its thickness.
int sweepsFor(const FillWindow& window, std::size_t unknowns) {
  const double thickness = static_cast<double>(unknowns) / std::max(window.width, window.height);
  return std::min(most_sweeps, 6 + static_cast<int>(4 * thickness));
}

PETALPROOF_WIDE void addWeighted(const float* light, const float* known, int depth, float* sum,
                                 float* weight) {
  for (int k = 0; k < depth; ++k) {
    sum[k] += known[k] * light[k];
    weight[k] += known[k];
  }
}

// Sums to means; from one known pixel of four on a mean counts as known.
PETALPROOF_WIDE void makeMeans(float* sum, float* weight, std::size_t count) {
  for (std::size_t k = 0; k < count; ++k) {
    const float by = weight[k] > 0 ? weight[k] : 1.0F;
    sum[k] /= by;
    weight[k] = weight[k] < 1 ? weight[k] : 1.0F;
  }
}

// Four pixels of a coarser level about one of a finer, and how far towards the later ones that lies.
struct Corners {
  const float* upper_left;
  const float* upper_right;
  const float* lower_left;
  const float* lower_right;
  float across;
  float down;
};

PETALPROOF_WIDE void blendUnknown(const Corners& from, const float* known, int depth, float* light) {
  const float fx = from.across;
  const float fy = from.down;
  for (int k = 0; k < depth; ++k) {
    const float above = (1 - fx) * from.upper_left[k] + fx * from.upper_right[k];
    const float below = (1 - fx) * from.lower_left[k] + fx * from.lower_right[k];
    const float between = (1 - fy) * above + fy * below;
    light[k] = known[k] * light[k] + (1 - known[k]) * between;
  }
}

// Two pixels of a coarser level about pixel k of a finer one along one side; `share`: of the second.
struct Between {
  int first;
  int second;
  float share;
};
Between between(int k, int coarse_count) {
  const int first = std::clamp((k - 1) / 2, 0, coarse_count - 1);
  return {first, std::min(first + 1, coarse_count - 1), k == 0 ? 0.0F : (k % 2 == 1 ? 0.25F : 0.75F)};
}

// One sweep of successive over-relaxation. `counts`: 1 for numbers that take part.
PETALPROOF_WIDE void sweepOver(const FillUnknown* unknowns, std::size_t count, int depth, const float* counts,
                               float* light) {
  for (std::size_t u = 0; u < count; ++u) {
    float* own = light + unknowns[u].own;
    const auto& beside = unknowns[u].beside;
    const float* a = light + beside[0];
    const float* b = light + beside[1];
    const float* c = light + beside[2];
    const float* d = light + beside[3];
    if (unknowns[u].inner) {
      for (int k = 0; k < depth; ++k)
        own[k] += over_relaxation * (0.25F * ((a[k] + b[k]) + (c[k] + d[k])) - own[k]);
      continue;
    }
    const float* ca = counts + beside[0];
    const float* cb = counts + beside[1];
    const float* cc = counts + beside[2];
    const float* cd = counts + beside[3];
    for (int k = 0; k < depth; ++k)
      own[k] += 0.25F * over_relaxation *
                ((ca[k] * (a[k] - own[k]) + cb[k] * (b[k] - own[k])) +
                 (cc[k] * (c[k] - own[k]) + cd[k] * (d[k] - own[k])));
  }
}

}  // namespace

void FillWindow::reset(int columns, int rows, int numbers) {
  width = columns;
  height = rows;
  depth = numbers;
  light.assign(numbersOf(columns, rows, numbers), 0);
  known.assign(light.size(), 0);
  wanted.assign(numbersOf(columns, rows, 1), 0);
}

void SmoothFill::list(const FillWindow& window) {
  unknowns_.clear();
  counts_ = window.known;
  for (int y = 0; y < window.height; ++y)
    for (int x = 0; x < window.width; ++x) {
      if (window.wanted[window.pixel(x, y)] == 0) continue;
      FillUnknown unknown{static_cast<std::uint32_t>(offsetOf(x, y, window.width, window.depth)), {}, true};
      constexpr std::array<std::array<int, 2>, 4> steps{{{-1, 0}, {1, 0}, {0, -1}, {0, 1}}};
      for (std::size_t k = 0; k < steps.size(); ++k) {
        const int nx = x + steps[k][0];
        const int ny = y + steps[k][1];
        const bool inside = nx >= 0 && ny >= 0 && nx < window.width && ny < window.height;
        unknown.inner = unknown.inner && inside && window.wanted[window.pixel(nx, ny)] != 0;
        unknown.beside[k] =
            inside ? static_cast<std::uint32_t>(offsetOf(nx, ny, window.width, window.depth)) : unknown.own;
      }
      unknowns_.push_back(unknown);
      std::fill_n(counts_.data() + unknown.own, window.depth, 1.0F);
    }
}

void SmoothFill::halve(const Level& fine, int depth, Level& coarse) {
  coarse.width = (fine.width + 1) / 2;
  coarse.height = (fine.height + 1) / 2;
  coarse.light.assign(numbersOf(coarse.width, coarse.height, depth), 0);
  coarse.known.assign(coarse.light.size(), 0);
  for (int y = 0; y < fine.height; ++y)
    for (int x = 0; x < fine.width; ++x) {
      const std::size_t from = offsetOf(x, y, fine.width, depth);
      const std::size_t to = offsetOf(x / 2, y / 2, coarse.width, depth);
      addWeighted(fine.light.data() + from, fine.known.data() + from, depth, coarse.light.data() + to,
                  coarse.known.data() + to);
    }
  makeMeans(coarse.light.data(), coarse.known.data(), coarse.light.size());
}

void SmoothFill::complete(const Level& coarse, int depth, Level& fine) {
  const auto at = [&](int x, int y) { return coarse.light.data() + offsetOf(x, y, coarse.width, depth); };
  for (int y = 0; y < fine.height; ++y) {
    const Between rows = between(y, coarse.height);
    for (int x = 0; x < fine.width; ++x) {
      const Between columns = between(x, coarse.width);
      const std::size_t to = offsetOf(x, y, fine.width, depth);
      blendUnknown(
          {at(columns.first, rows.first), at(columns.second, rows.first), at(columns.first, rows.second),
           at(columns.second, rows.second), columns.share, rows.share},
          fine.known.data() + to, depth, fine.light.data() + to);
    }
  }
}

void SmoothFill::startFromPyramid(FillWindow& window) {
  std::size_t count = 1;
  for (int size = std::max(window.width, window.height); size > 1; size = (size + 1) / 2) ++count;
  if (levels_.size() < count) levels_.resize(count);
  Level& finest = levels_.front();
  finest.width = window.width;
  finest.height = window.height;
  finest.light = window.light;
  finest.known = window.known;
  for (std::size_t k = 1; k < count; ++k) halve(levels_[k - 1], window.depth, levels_[k]);
  for (std::size_t k = count - 1; k > 0; --k) complete(levels_[k], window.depth, levels_[k - 1]);
  for (const FillUnknown& unknown : unknowns_)
    std::copy_n(finest.light.data() + unknown.own, window.depth, window.light.data() + unknown.own);
}

void SmoothFill::fill(FillWindow& window) {
  list(window);
  startFromPyramid(window);
  for (int sweep = sweepsFor(window, unknowns_.size()); sweep > 0; --sweep)
    sweepOver(unknowns_.data(), unknowns_.size(), window.depth, counts_.data(), window.light.data());
}

}  // namespace petalproof::reading
