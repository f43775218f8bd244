#pragma once
// A batch of triangles as a picture's camera sees it.

#include "engine/visibility/rasteriser.h"

#include <glm/mat4x3.hpp>

namespace petalproof::visibility {

glm::dmat4x3 cameraFromBatch(const TriangleBatch& batch, const RasterView& view);

// Whether all of a batch lies beyond one side of the picture: then none of its triangles need be looked at.
bool isBeside(const TriangleBatch& batch, const glm::dmat4x3& cameraFromBatch, const RasterView& view);

inline bool isFinite(const glm::dvec3& p) { return (p.x + p.y + p.z) * 0 == 0; }

}  // namespace petalproof::visibility
