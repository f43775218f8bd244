#include "engine/picture/row_loops.h"

#include "engine/base/lab_curve.h"
#include "engine/light/wide.h"

#include <cmath>
#include <cstring>

namespace petalproof::picture {
namespace {

// Sixteen numbers side by side; a processor without such registers takes them in parts.
using Lanes = float __attribute__((vector_size(64)));
constexpr int lanes = 16;
constexpr int groups = 4;  // worked on at a time, so that no addition waits for the one before

inline void load(const float* from, Lanes& to) { std::memcpy(&to, from, sizeof to); }

inline void addTo(float* out, float weight, const Lanes& sum) {
  Lanes before;
  load(out, before);
  before += weight * sum;
  std::memcpy(out, &before, sizeof before);
}

}  // namespace

PETALPROOF_WIDE void addScaled(const float* in, float scale, float* out, int count) {
  for (int k = 0; k < count; ++k) out[k] += scale * in[k];
}

PETALPROOF_WIDE void addSymmetric(const float* in, std::ptrdiff_t stride, const float* taps, int count_taps,
                                  float weight, float* out, int count) {
  int k = 0;
  Lanes below;
  Lanes above;
  for (; k + groups * lanes <= count; k += groups * lanes) {
    Lanes sums[groups];
    for (int g = 0; g < groups; ++g) {
      load(in + k + g * lanes, sums[g]);
      sums[g] *= taps[0];
    }
    for (int t = 1; t < count_taps; ++t)
      for (int g = 0; g < groups; ++g) {
        load(in + k + g * lanes - t * stride, below);
        load(in + k + g * lanes + t * stride, above);
        sums[g] += taps[t] * (below + above);
      }
    for (int g = 0; g < groups; ++g) addTo(out + k + g * lanes, weight, sums[g]);
  }
  for (; k + lanes <= count; k += lanes) {
    Lanes sum;
    load(in + k, sum);
    sum *= taps[0];
    for (int t = 1; t < count_taps; ++t) {
      load(in + k - t * stride, below);
      load(in + k + t * stride, above);
      sum += taps[t] * (below + above);
    }
    addTo(out + k, weight, sum);
  }
  for (; k < count; ++k) {
    float sum = taps[0] * in[k];
    for (int t = 1; t < count_taps; ++t) sum += taps[t] * (in[k - t * stride] + in[k + t * stride]);
    out[k] += weight * sum;
  }
}

// A constant number of rows, where it is known, keeps the sums in registers.
template <int rows>
inline void sumRows(const float* values, int count, float* sums) {
  float sum[rows] = {};
  for (int r = 0; r < rows; ++r) sums[r] = 0;
  for (int k = 0; k < count; ++k)
    for (int r = 0; r < rows; ++r) {
      sum[r] += values[k * rows + r];
      sums[(k + 1) * rows + r] = sum[r];
    }
}

PETALPROOF_WIDE void runningSums(const float* values, int rows, int count, float* sums) {
  if (rows == 8) return sumRows<8>(values, count, sums);
  if (rows == 1) return sumRows<1>(values, count, sums);
  for (int r = 0; r < rows; ++r) sums[r] = 0;
  for (int k = 0; k < count * rows; ++k) sums[k + rows] = sums[k] + values[k];
}

PETALPROOF_WIDE void addChord(const float* sums, int rows, float half, int offset, float scale, float* out,
                              int count) {
  const float right = static_cast<float>(offset) + 0.5F + half;
  const float left = static_cast<float>(offset) + 0.5F - half;
  const int whole_right = static_cast<int>(std::floor(right));
  const int whole_left = static_cast<int>(std::floor(left));
  const float part_right = right - static_cast<float>(whole_right);
  const float part_left = left - static_cast<float>(whole_left);
  const float* r = sums + static_cast<std::ptrdiff_t>(whole_right) * rows;
  const float* l = sums + static_cast<std::ptrdiff_t>(whole_left) * rows;
  const float* r_next = r + rows;
  const float* l_next = l + rows;
  const float r0 = scale * (1 - part_right);
  const float r1 = scale * part_right;
  const float l0 = scale * (1 - part_left);
  const float l1 = scale * part_left;
  for (int k = 0; k < count * rows; ++k) out[k] += r0 * r[k] + r1 * r_next[k] - l0 * l[k] - l1 * l_next[k];
}

PETALPROOF_WIDE void layUnder(const float* sheet, std::ptrdiff_t stride, int channels, float* sum,
                              int count) {
  constexpr int part = 64;
  float share[part];
  for (int first = 0; first < count; first += part) {
    const int many = count - first < part ? count - first : part;
    for (int k = 0; k < many; ++k) {
      const float covers = sheet[first + k];
      const float room = 1 - sum[first + k];
      share[k] = covers > room ? room / covers : 1.0F;
    }
    for (int c = 0; c < channels; ++c) {
      const float* from = sheet + c * stride + first;
      float* to = sum + static_cast<std::ptrdiff_t>(c) * count + first;
      for (int k = 0; k < many; ++k) to[k] += share[k] * from[k];
    }
  }
}

PETALPROOF_WIDE void divideBy(const float* by, const float* value, float* out, int count) {
  for (int k = 0; k < count; ++k) out[k] = by[k] > 0 ? value[k] / by[k] : 0.0F;
}

PETALPROOF_WIDE void squaredLabDifferences(const float* m, const std::array<const float*, 3>& seen,
                                           const std::array<const float*, 3>& added, float* out, int count) {
  const float* s0 = seen[0];
  const float* s1 = seen[1];
  const float* s2 = seen[2];
  const float* a0 = added[0];
  const float* a1 = added[1];
  const float* a2 = added[2];
  for (int k = 0; k < count; ++k) {
    const float t0 = s0[k] + a0[k];
    const float t1 = s1[k] + a1[k];
    const float t2 = s2[k] + a2[k];
    const float x =
        labCurve(m[0] * t0 + m[3] * t1 + m[6] * t2) - labCurve(m[0] * s0[k] + m[3] * s1[k] + m[6] * s2[k]);
    const float y =
        labCurve(m[1] * t0 + m[4] * t1 + m[7] * t2) - labCurve(m[1] * s0[k] + m[4] * s1[k] + m[7] * s2[k]);
    const float z =
        labCurve(m[2] * t0 + m[5] * t1 + m[8] * t2) - labCurve(m[2] * s0[k] + m[5] * s1[k] + m[8] * s2[k]);
    const float lightness = 116 * y;
    const float red_green = 500 * (x - y);
    const float blue_yellow = 200 * (y - z);
    out[k] = lightness * lightness + red_green * red_green + blue_yellow * blue_yellow;
  }
}

}  // namespace petalproof::picture
