#pragma once
// Orders batches front to back, so that the rasteriser draws hiding blooms before hidden ones. Only the speed
// depends on it.

#include "engine/base/pool.h"
#include "engine/visibility/rasteriser.h"

#include <cstdint>
#include <span>
#include <vector>

namespace petalproof::visibility {

// Indices of the batches, the batch with the nearest vertex first.
std::vector<std::uint32_t> frontToBack(std::span<const TriangleBatch> batches, const RasterView& view,
                                       const Pool& pool);

// Cuts `order` into `parts` or fewer runs of about equal numbers of triangles; run k is
// [bounds[k], bounds[k + 1]).
std::vector<std::size_t> evenRuns(std::span<const TriangleBatch> batches,
                                  std::span<const std::uint32_t> order, std::size_t parts);

}  // namespace petalproof::visibility
