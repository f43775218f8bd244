#pragma once
// The visibility buffer: what each pixel of a shot shows. The check renders it for each shot; gaps, light and
// readings are found from it. A pixel shows the bloom that the ray through its centre meets first or, where
// it meets none, the place where that ray crosses the board plane z = 0; that place is classified exactly (by
// the homography, not by drawing), so touching panels leave no crack.

#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/plan/plan.h"
#include "engine/scene/scene.h"
#include "engine/visibility/rasteriser.h"

#include <cstdint>
#include <stop_token>
#include <vector>

namespace petalproof::visibility {

enum class Sees : std::uint32_t { off = 0, bloom, board, seam, behind };

// A pixel's kind of thing and its number: bits 29 to 31 hold `Sees`, bits 0 to 28 an index.
//   bloom   index into Scene::blooms
//   board   row * columns + column of the panel
//   seam    0 (engine/gaps decides which seam owns it)
//   behind  0 ; off 0
class PixelId {
 public:
  constexpr PixelId() = default;
  constexpr PixelId(Sees sees, std::uint32_t index) : bits_(static_cast<std::uint32_t>(sees) << 29 | index) {}
  constexpr Sees sees() const { return static_cast<Sees>(bits_ >> 29); }
  constexpr std::uint32_t index() const { return bits_ & 0x1fffffffU; }
  friend constexpr bool operator==(PixelId, PixelId) = default;

 private:
  std::uint32_t bits_ = 0;
};

// The cell of the board plane at a place. A slit is `seam` between two panels, both there; where slits cross,
// with at least two of the four there, `seam`; any other slit and empty cells `behind`; outside the outline
// `off`. A panel owns its left and bottom edge; the outline owns all of its own.
PixelId boardPlaneAt(const scene::PanelGrid& panels, BoardPoint place);

struct VisibilityBuffer {
  int width_px = 0;
  int height_px = 0;
  std::vector<PixelId> ids;              // row-major from the top left
  std::vector<float> inverse_depths;     // along the lens axis, 1/mm: of the bloom, else of the board plane
                                         // (which goes on off the wall); 0 where a ray meets neither
  std::vector<std::uint8_t> people;      // 1: a person hides this pixel; empty where nobody stands
  std::vector<std::uint32_t> triangles;  // of paper, as triangleBatchesOf numbers them; 0 where no bloom is;
                                         // empty where they weren't asked for

  std::size_t offset(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width_px) + static_cast<std::size_t>(x);
  }
  PixelId id(int x, int y) const { return ids[offset(x, y)]; }
};

// Keeps buffers between calls.
class VisibilityRenderer {
 public:
  // Refers to `pool`, which must outlive it.
  explicit VisibilityRenderer(const Pool& pool) : pool_(pool), rasteriser_(pool) {}

  // Overwrites `out`, reusing its memory, with what each pixel sees, without depths and people: for
  // callers that only ask which pixels are bare.
  void renderIds(const scene::Scene& scene, const camera::Camera& camera, VisibilityBuffer& out);

  // Overwrites `out`, reusing its memory. `people` may be empty. `stop` is asked for each part of the
  // picture; another call may follow.
  enum class Triangles { unasked, asked };
  void render(const scene::Scene& scene, const camera::Camera& camera,
              const std::vector<plan::Person>& people, const camera::WallFrame& wall, VisibilityBuffer& out,
              Triangles triangles = Triangles::unasked, const std::stop_token& stop = {});

 private:
  void renderPeople(const RasterView& view, const std::vector<plan::Person>& people,
                    const camera::WallFrame& wall, VisibilityBuffer& out);

  const Pool& pool_;
  Rasteriser rasteriser_;
};

RasterView rasterViewOf(const camera::Camera& camera);
// A batch for each bloom, with id = index + 1.
std::vector<TriangleBatch> batchesOf(const scene::Scene& scene);
// The same batches, but with an id for each triangle: numbered from 1 through the scene, bloom by bloom, in
// the order of its mesh.
std::vector<TriangleBatch> triangleBatchesOf(const scene::Scene& scene);

// Shares of the cropped picture's pixels. The first five, taken as if nobody stood there, add up to 1;
// `people` is the share of pixels that people hide.
struct PictureShares {
  double bloom = 0;
  double board = 0;
  double seam = 0;
  double behind = 0;
  double off = 0;
  double people = 0;
};
// Nothing of the wall is in the picture.
inline bool seesNoWall(const PictureShares& shares) {
  return shares.bloom + shares.board + shares.seam + shares.behind <= 0;
}
PictureShares sharesOf(const VisibilityBuffer& buffer, const Pool& pool);

}  // namespace petalproof::visibility
