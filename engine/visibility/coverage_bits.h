#pragma once
// Which pixels blooms cover, and nothing else: neither which bloom, nor how far away.
//
// Whoever asks only what a picture shows bare needs no more, and gets it several times faster than by ids. It
// holds because a bloom hides whatever the board plane has at its pixel
// (engine/visibility/visibility_buffer.h): nothing but blooms is ever in front of the board, so a pixel is
// bare if no triangle covers its centre and the place where its ray crosses the board plane is bare. That
// goes for hands' builds too, in which panels stand out from each other: a petal that reaches past its panel
// lies on a neighbour that stands out, for paper gives way. The pixels are exactly those of Rasteriser and
// VisibilityRenderer::renderIds: corners snapped alike, centres decided by the same top-left rule. Where
// something else may stand in front of a bloom, as people do, it doesn't hold: take ids and depths.

#include "engine/camera/camera.h"
#include "engine/scene/scene.h"
#include "engine/visibility/pixel_mask.h"
#include "engine/visibility/rasteriser.h"

#include <memory>
#include <span>

namespace petalproof::visibility {

// Keeps its threads and memory from call to call.
class CoverageRasteriser {
 public:
  // `threads` 0: as many as the machine has; the result doesn't depend on it, nor on the kernel.
  explicit CoverageRasteriser(int threads = 0, RasterKernel kernel = RasterKernel::fastest);
  ~CoverageRasteriser();
  CoverageRasteriser(CoverageRasteriser&&) noexcept;
  CoverageRasteriser& operator=(CoverageRasteriser&&) noexcept;

  // Pictures of at most so many pixels a side; larger ones are for ids.
  static constexpr int largest_side_px = 1 << 15;
  static bool holdsFor(const camera::Camera& camera) {
    return camera.width_px <= largest_side_px && camera.height_px <= largest_side_px;
  }

  // Overwrites `covered`, reusing its memory: the pixels whose centres some triangle covers. Ids are of no
  // interest; triangles that aren't finite are left out.
  void draw(std::span<const TriangleBatch> batches, const RasterView& view, PixelMask& covered);

  // Overwrites `bare`, reusing its memory: those of `allowed` (of the same size) that no triangle covers.
  void drawUncovered(std::span<const TriangleBatch> batches, const RasterView& view, const PixelMask& allowed,
                     PixelMask& bare);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace petalproof::visibility
