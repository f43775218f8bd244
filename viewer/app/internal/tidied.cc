#include "viewer/app/internal/tidied.h"

#include <cmath>

namespace petalproof::app {

double tidied(double value) {
  constexpr double parts = 10'000;  // four decimals: a sixteenth of an inch, 0.0625, is exact
  return std::round(value * parts) / parts;
}

plan::TapePoint tidied(plan::TapePoint at) { return {tidied(at.from_left), tidied(at.from_top)}; }

}  // namespace petalproof::app
