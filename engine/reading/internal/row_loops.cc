#include "engine/reading/internal/row_loops.h"

#include <cmath>
#include <cstring>

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__) && \
    !defined(__SANITIZE_THREAD__)
#define PETALPROOF_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define PETALPROOF_WIDE
#endif

namespace petalproof {
namespace {

// Eight numbers side by side; a processor without such registers takes them in parts.
using Lanes = float __attribute__((vector_size(32)));
constexpr int lanes = 8;
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
