#include "engine/reading/internal/difference.h"

#include "engine/picture/row_loops.h"
#include "engine/reading/scielab.h"

#include <glm/gtc/type_ptr.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::reading {

void squaredDifferences(const std::array<std::vector<float>, 3>& seen,
                        const std::array<std::vector<float>, 3>& added, std::vector<float>& out) {
  static const glm::mat3 relativeFromOpponent = relativeXyzFromOpponent();
  out.resize(seen[0].size());
  picture::squaredLabDifferences(
      glm::value_ptr(relativeFromOpponent), {seen[0].data(), seen[1].data(), seen[2].data()},
      {added[0].data(), added[1].data(), added[2].data()}, out.data(), static_cast<int>(out.size()));
}

double nearestRank(std::vector<float> values, double share) {
  if (values.empty()) return 0;
  const auto count = static_cast<double>(values.size());
  const auto rank = static_cast<std::ptrdiff_t>(std::clamp(std::ceil(share * count - 1e-9), 1.0, count));
  std::nth_element(values.begin(), values.begin() + (rank - 1), values.end());
  return static_cast<double>(values[static_cast<std::size_t>(rank - 1)]);
}

}  // namespace petalproof::reading
