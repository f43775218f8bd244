#pragma once
// The functions that fill masks: the same code (engine/visibility/internal/kernel/cover_fill.h) compiled for
// several kinds of processor. All give the same bits. CoverageRasteriser picks the fastest.

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
  // Writes the corners of all vertices, snapped as by projected() of setup.h. False if a corner is outside
  // the guard band: then the batch must be clipped first.
  bool (*project)(std::span<const glm::vec3> vertices, const glm::dmat4x3& cameraFromBatch,
                  const RasterView& view, CornerKey* corners);
  // Sets the bits of the pixels that the triangles cover; all corners must be inside the guard band.
  void (*cover)(const CornerKey* corners, std::span<const std::array<std::uint32_t, 3>> triangles,
                StripMask& mask);
};
// The kernels that this processor can run, the fastest last; never empty.
std::span<const CoverKernel> coverKernels();

CoverKernel baselineCoverKernel();
CoverKernel avx2CoverKernel();

}  // namespace petalproof::visibility
