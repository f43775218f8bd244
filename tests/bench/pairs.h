#pragma once
// Times by turns.

#include <algorithm>
#include <chrono>
#include <cstddef>
#include <vector>

namespace petalproof::bench {

template <class Work>
double milliseconds(const Work& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

inline double median(std::vector<double> values) {
  if (values.empty()) return 0;
  std::sort(values.begin(), values.end());
  const std::size_t middle = values.size() / 2;
  return values.size() % 2 == 1 ? values[middle] : 0.5 * (values[middle - 1] + values[middle]);
}

// Two ways of doing the same, one call each in turn.
struct Pairs {
  std::vector<double> ours;
  std::vector<double> theirs;
  double ratio() const {
    std::vector<double> ratios;
    for (std::size_t k = 0; k < ours.size(); ++k) ratios.push_back(theirs[k] / ours[k]);
    return median(ratios);
  }
};

template <class Ours, class Theirs>
Pairs timed(int pairs, const Ours& ours, const Theirs& theirs) {
  Pairs times;
  ours();
  theirs();
  for (int k = 0; k < pairs; ++k) {
    times.ours.push_back(milliseconds(ours));
    times.theirs.push_back(milliseconds(theirs));
  }
  return times;
}

}  // namespace petalproof::bench
