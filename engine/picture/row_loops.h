#pragma once
// The innermost loops of blurring, over rows of numbers. Compiled once more for processors with AVX2 where
// the compiler can choose at run time; the numbers are the same (no multiply-add is contracted).

#include <array>
#include <cstddef>

namespace petalproof::picture {

// out[k] += scale * in[k].
void addScaled(const float* in, float scale, float* out, int count);

// out[k] += weight * (taps[0] * in[k] + sum over t of taps[t] * (in[k - t * stride] + in[k + t * stride])),
// t from 1 to count_taps - 1. A stride of 1 works along a row, of a row's length down a column.
void addSymmetric(const float* in, std::ptrdiff_t stride, const float* taps, int count_taps, float weight,
                  float* out, int count);

// Of `rows` rows side by side (number r of pixel k at k * rows + r) the sums of the first k pixels, for k
// from 0 to count.
void runningSums(const float* values, int rows, int count, float* sums);

// To each pixel k of rows side by side, scale * the integral of its row over [k + offset + 0.5 - half,
// k + offset + 0.5 + half], a row's pixel j covering [j, j + 1].
void addChord(const float* sums, int rows, float half, int offset, float scale, float* out, int count);

// Lays a sheet under those there are: channel c of `sheet` from sheet + c * stride on, of `sum` from sum + c
// * count on, channel 0 the coverage. Each pixel takes of the sheet what the others leave of 1.
void layUnder(const float* sheet, std::ptrdiff_t stride, int channels, float* sum, int count);
// out[k] = value[k] / by[k], 0 where by[k] is.
void divideBy(const float* by, const float* value, float* out, int count);

// CIE 1976 differences, squared, between opponent colours and the same with something added.
// `relativeXyzFromOpponent`: column by column.
void squaredLabDifferences(const float* relativeXyzFromOpponent, const std::array<const float*, 3>& seen,
                           const std::array<const float*, 3>& added, float* out, int count);

}  // namespace petalproof::picture
