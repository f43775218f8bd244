#pragma once
// A shot at the size it will be looked at, before the lens blurs it: linear light, with what is bare kept
// apart from all else, so that a gap can be compared with the same picture without it.

#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/camera/looked_at.h"
#include "engine/light/lighting.h"
#include "engine/scene/scene.h"
#include "engine/visibility/visibility_buffer.h"

#include <glm/vec3.hpp>

#include <cstddef>
#include <cstdint>
#include <memory>
#include <stop_token>
#include <vector>

namespace petalproof::picture {

// Row-major from the top left. The picture as it is: front * (1 - bare_share) + bare * bare_share; an
// unshaded white card facing the guests is (1, 1, 1).
struct WorkingPicture {
  camera::WorkingSize size;
  std::vector<glm::vec3> front;         // mean light of what isn't bare; 0 where all is bare
  std::vector<glm::vec3> bare;          // mean light of what is bare; 0 where nothing is
  std::vector<float> bare_share;        // of the pixel's area, 0 to 1
  std::vector<float> bloom_share;       // likewise: blooms
  std::vector<float> front_inverse_mm;  // mean inverse distance along the lens axis of what isn't bare
  std::vector<std::uint32_t> paper;  // whose paper is in the pixel's middle: a bloom's index in the scene +
                                     // 1, or `covered`; 0 where it is bare by more than half, or neither

  static constexpr std::uint32_t covered = 0xffffffffU;  // board that is meant to be seen

  std::size_t offset(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(size.width_px) +
           static_cast<std::size_t>(x);
  }
};

using light::Lighting;

// Paints working pictures of one scene; keeps light and buffers between calls.
class WallPainter {
 public:
  // Refers to `scene` and `pool`, which must outlive it. Pictures don't depend on the pool.
  explicit WallPainter(const scene::Scene& scene, const Pool& pool, Lighting lighting = Lighting::full);
  ~WallPainter();

  // Goes on with another scene; keeps its memory.
  void goOnWith(const scene::Scene& scene, Lighting lighting = Lighting::full);

  // `seen`: what `camera` sees of the scene; it alone decides what is bare. People are left out. `colours`:
  // of board, edges, behind and room, in place of the scene's. Valid until the next call.
  // `stop` is asked within, which may take seconds; another call may follow.
  const WorkingPicture& paint(const camera::Camera& camera, const visibility::VisibilityBuffer& seen,
                              const camera::WorkingSize& size, const scene::SceneColours& colours,
                              const std::stop_token& stop = {});

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace petalproof::picture
