#pragma once
// A batch of triangles in the camera's frame, for both rasterisers: its transform, and whether all of it is
// out of the picture.

#include "engine/visibility/rasteriser.h"

#include <glm/mat4x3.hpp>

namespace petalproof::visibility {

glm::dmat4x3 cameraFromBatch(const TriangleBatch& batch, const RasterView& view);

// Whether all of a batch lies beyond one side of the picture: then the rasteriser skips it.
bool isBeside(const TriangleBatch& batch, const glm::dmat4x3& cameraFromBatch, const RasterView& view);

inline bool isFinite(const glm::dvec3& p) { return (p.x + p.y + p.z) * 0 == 0; }

}  // namespace petalproof::visibility
