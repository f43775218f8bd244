#pragma once
// What fills masks: the same code compiled for several kinds of processor
// (engine/visibility/internal/kernel/cover_fill.h). All give the same bits.

#include "engine/visibility/internal/screen_triangle.h"
#include "engine/visibility/internal/strip_mask.h"
#include "engine/visibility/rasteriser.h"

#include <glm/mat4x3.hpp>

#include <array>
#include <cstdint>
#include <span>

namespace petalproof::visibility {

struct CoverKernel {
  const char* name;
  // Corners of all vertices, as setup.h's projected() snaps them. False if one of them is outside the guard
  // band: then it has to be clipped first.
  bool (*project)(std::span<const glm::vec3> vertices, const glm::dmat4x3& cameraFromBatch,
                  const RasterView& view, CornerKey* corners);
  // Sets the bits of what the triangles cover, corners inside the guard band.
  void (*cover)(const CornerKey* corners, std::span<const std::array<std::uint32_t, 3>> triangles,
                StripMask& mask);
};
// Those that this processor can run, the fastest last; never empty.
std::span<const CoverKernel> coverKernels();

CoverKernel baselineCoverKernel();
CoverKernel avx2CoverKernel();

}  // namespace petalproof::visibility
