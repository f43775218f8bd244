#pragma once
// The innermost loops of blurring, over rows of numbers. Compiled once more for processors with AVX2 where
// the compiler can choose at run time; the numbers are the same (no multiply-add is contracted).

#include <cstddef>

namespace petalproof {

// out[k] += scale * in[k].
void addScaled(const float* in, float scale, float* out, int count);

// out[k] += weight * (taps[0] * in[k] + sum over t of taps[t] * (in[k - t * stride] + in[k + t * stride])),
// t from 1 to count_taps - 1. A stride of 1 works along a row, of a row's length down a column.
void addSymmetric(const float* in, std::ptrdiff_t stride, const float* taps, int count_taps, float weight,
                  float* out, int count);

// sums[k] = values[0] + ... + values[k - 1], for k from 0 to count.
void runningSums(const float* values, int count, float* sums);

// out[k] += scale * integral of the row over [k + offset + 0.5 - half, k + offset + 0.5 + half], its pixel j
// covering [j, j + 1].
void addChord(const float* sums, float half, int offset, float scale, float* out, int count);

}  // namespace petalproof
