#pragma once
// Draws triangles into a picture of ids and depths, exactly. Everything that the program says about a shot
// rests on it: VisibilityRenderer calls it with blooms and people, engine/light with what light falls on.
//
//   space     batches in world space (mm); the camera looks down -z of its frame, y up
//   picture   row-major from the top left; a pixel shows what the ray through its centre meets first
//   depth     1 / distance along the lens axis (1/mm); 0: nothing there
//   snapping  projected corners go to 1/1024 px; edges by the top-left rule in integers: each pixel of a
//             triangulation is covered exactly once
//
// The same result for any number of threads. Of two triangles at the same depth the smaller id shows.

#include "engine/base/pool.h"

#include <glm/mat4x3.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <array>
#include <cstdint>
#include <functional>
#include <memory>
#include <span>
#include <vector>

namespace petalproof::visibility {

struct TriangleBatch {
  std::span<const glm::vec3> vertices;
  std::span<const std::array<std::uint32_t, 3>> triangles;
  glm::mat4x3 worldFromBatch{1.0F};
  std::uint32_t id = 1;          // not 0
  bool id_per_triangle = false;  // triangle k of the batch gets id + k
};

struct RasterView {
  glm::dmat4x3 cameraFromWorld{1.0};
  double focal_px = 0;
  glm::dvec2 principal_px{0};
  int width_px = 0;
  int height_px = 0;
};

struct IdBuffer {
  int width_px = 0;
  int height_px = 0;
  std::vector<std::uint32_t> ids;     // 0: nothing
  std::vector<float> inverse_depths;  // 1/mm

  std::uint32_t id(int x, int y) const {
    return ids[static_cast<std::size_t>(y) * static_cast<std::size_t>(width_px) +
               static_cast<std::size_t>(x)];
  }
};

// A finished part of the picture, handed out while it is still in the processor's cache.
class FinishedTile {
 public:
  static constexpr int size_px = 64;

  virtual int x0() const = 0;  // its upper left pixel
  virtual int y0() const = 0;
  virtual bool empty() const = 0;  // no triangle shows in it
  // Row `row` of the tile, all 64 pixels, also those beyond the picture's edge.
  virtual void readRow(int row, std::uint32_t* ids, float* inverse_depths) const = 0;

 protected:
  ~FinishedTile() = default;
};

using TileTaker = std::function<void(const FinishedTile&)>;

// Which code runs the innermost loops: code for every x86-64 processor, or the fastest that this processor
// can run. Their pictures are equal.
enum class RasterKernel { baseline, fastest };

// Keeps its buffers from call to call.
class Rasteriser {
 public:
  // Refers to `pool`, which must outlive it.
  explicit Rasteriser(const Pool& pool, RasterKernel kernel = RasterKernel::fastest);
  ~Rasteriser();
  Rasteriser(Rasteriser&&) noexcept;
  Rasteriser& operator=(Rasteriser&&) noexcept;

  // Overwrites `out`, reusing its memory. Triangles that aren't finite are left out.
  void draw(std::span<const TriangleBatch> batches, const RasterView& view, IdBuffer& out);

  // Hands each tile of the picture to `take` once, from several threads at a time, in no order.
  void drawTiles(std::span<const TriangleBatch> batches, const RasterView& view, const TileTaker& take);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace petalproof::visibility
