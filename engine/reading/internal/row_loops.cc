#include "engine/reading/internal/row_loops.h"

#include <algorithm>
#include <cmath>

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__) && \
    !defined(__SANITIZE_THREAD__)
#define PETALPROOF_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define PETALPROOF_WIDE
#endif

namespace petalproof {
namespace {

constexpr int chunk = 16;  // kept in registers

}  // namespace

PETALPROOF_WIDE void addScaled(const float* in, float scale, float* out, int count) {
  for (int k = 0; k < count; ++k) out[k] += scale * in[k];
}

PETALPROOF_WIDE void addSymmetric(const float* in, std::ptrdiff_t stride, const float* taps, int count_taps,
                                  float weight, float* out, int count) {
  int k = 0;
  for (; k + chunk <= count; k += chunk) {
    float sums[chunk];
    for (int i = 0; i < chunk; ++i) sums[i] = taps[0] * in[k + i];
    const float* below = in + k;
    const float* above = in + k;
    for (int t = 1; t < count_taps; ++t) {
      below -= stride;
      above += stride;
      for (int i = 0; i < chunk; ++i) sums[i] += taps[t] * (below[i] + above[i]);
    }
    for (int i = 0; i < chunk; ++i) out[k + i] += weight * sums[i];
  }
  for (; k < count; ++k) {
    float sum = taps[0] * in[k];
    for (int t = 1; t < count_taps; ++t) sum += taps[t] * (in[k - t * stride] + in[k + t * stride]);
    out[k] += weight * sum;
  }
}

void runningSums(const float* values, int count, float* sums) {
  sums[0] = 0;
  for (int k = 0; k < count; ++k) sums[k + 1] = sums[k] + values[k];
}

PETALPROOF_WIDE void addChord(const float* sums, float half, int offset, float scale, float* out, int count) {
  const float right = static_cast<float>(offset) + 0.5F + half;
  const float left = static_cast<float>(offset) + 0.5F - half;
  const int whole_right = static_cast<int>(std::floor(right));
  const int whole_left = static_cast<int>(std::floor(left));
  const float part_right = right - static_cast<float>(whole_right);
  const float part_left = left - static_cast<float>(whole_left);
  const float* r = sums + whole_right;
  const float* l = sums + whole_left;
  const float r0 = scale * (1 - part_right);
  const float r1 = scale * part_right;
  const float l0 = scale * (1 - part_left);
  const float l1 = scale * part_left;
  for (int k = 0; k < count; ++k) out[k] += r0 * r[k] + r1 * r[k + 1] - l0 * l[k] - l1 * l[k + 1];
}

}  // namespace petalproof
