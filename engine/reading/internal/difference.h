#pragma once
// Differences of colours as the eye sees them, many at a time.

#include <array>
#include <vector>

namespace petalproof::reading {

constexpr double difference_percentile = 0.99;  // of a patch's pixels: their difference is the patch's

// CIE 1976 differences, squared, between opponent colours and the same with `added`; overwrites `out`.
void squaredDifferences(const std::array<std::vector<float>, 3>& seen,
                        const std::array<std::vector<float>, 3>& added, std::vector<float>& out);

// The `share` of values at or below it, by the nearest rank; 0 for none.
double nearestRank(std::vector<float> values, double share);

}  // namespace petalproof::reading
