#pragma once
// Draws which pixels of a picture blooms cover: one bit a pixel, without ids or depths. Checks of simulated
// builds and quick looks at fillers call it, which only ask for bare pixels: it is several times faster than
// Rasteriser.
//
// A pixel is bare if no triangle covers its centre and its ray crosses the board plane at a bare place. That
// is enough because a bloom hides whatever the board plane has at its pixel
// (engine/visibility/visibility_buffer.h): only blooms are ever in front of the board. It holds for hands'
// builds too, in which panels stand out from each other: a petal that reaches past its panel lies on a
// neighbour that stands out, for paper gives way. The covered pixels are exactly those of Rasteriser and
// VisibilityRenderer::renderIds: corners are snapped alike, centres decided by the same top-left rule. It
// does not hold where people may stand in front of a bloom: then take ids and depths.

#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/scene/scene.h"
#include "engine/visibility/pixel_mask.h"
#include "engine/visibility/rasteriser.h"

#include <memory>
#include <span>

namespace petalproof::visibility {

// Keeps its memory from call to call.
class CoverageRasteriser {
 public:
  // Refers to `pool`, which must outlive it. The result depends neither on it nor on the kernel.
  explicit CoverageRasteriser(const Pool& pool, RasterKernel kernel = RasterKernel::fastest);
  ~CoverageRasteriser();
  CoverageRasteriser(CoverageRasteriser&&) noexcept;
  CoverageRasteriser& operator=(CoverageRasteriser&&) noexcept;

  // The largest picture that it draws; larger ones need ids (Rasteriser).
  static constexpr int largest_side_px = 1 << 15;
  static bool holdsFor(const camera::Camera& camera) {
    return camera.width_px <= largest_side_px && camera.height_px <= largest_side_px;
  }

  // Overwrites `covered`, reusing its memory, with the pixels whose centres a triangle covers. Ids of batches
  // are ignored; triangles that aren't finite are left out.
  void draw(std::span<const TriangleBatch> batches, const RasterView& view, PixelMask& covered);

  // Overwrites `bare`, reusing its memory, with the pixels of `allowed` (a mask of the same size) that no
  // triangle covers.
  void drawUncovered(std::span<const TriangleBatch> batches, const RasterView& view, const PixelMask& allowed,
                     PixelMask& bare);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace petalproof::visibility
