#pragma once
// Which triangle of paper each pixel of a shot shows, and what it sends there.

#include "engine/base/frames.h"
#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/light/internal/surface_light.h"
#include "engine/scene/scene.h"
#include "engine/visibility/rasteriser.h"
#include "engine/visibility/visibility_buffer.h"

#include <algorithm>
#include <cstdint>
#include <vector>

namespace petalproof::light {

class TriangleSight {
 public:
  // Takes the triangles that `seen`, which must stay until the picture is forgotten, has of the shot; where
  // it has none, draws it.
  void see(const scene::Scene& scene, const camera::Camera& camera, const visibility::VisibilityBuffer& seen,
           visibility::Rasteriser& rasteriser, const Pool& pool);

  // Row-major; number of the triangle + 1, 0 where no bloom is.
  const std::uint32_t* row(int y) const {
    return picture_ + static_cast<std::size_t>(y) * static_cast<std::size_t>(width_px_);
  }
  int width_px() const { return width_px_; }
  int height_px() const { return height_px_; }

  // What shows, in order.
  std::vector<PaperSide> sides(const scene::Scene& scene, const camera::Camera& camera,
                               const SurfaceLight& surfaces) const;
  // Makes ready to be asked for colours; these must be lit.
  void light(const scene::Scene& scene, const camera::Camera& camera, const SurfaceLight& surfaces,
             const std::vector<PaperSide>& sides);

  // Gives the picture's memory back: from here on rows can't be asked for.
  void forgetPicture() {
    picture_ = nullptr;
    std::vector<std::uint32_t>().swap(drawn_);
  }

  // What the triangle `id` sends to a place of the picture.
  glm::vec3 colour(std::uint32_t id, float u, float v) const {
    const Face& face = faces_[face_of_[id - 1]];
    glm::vec3 w = face.at_middle + face.per_u * (u - middle_.x) + face.per_v * (v - middle_.y);
    w *= 1 / (w.x + w.y + w.z);
    const float w1 = std::min(std::max(w.y, 0.0F), 1.0F);
    const float w2 = std::min(std::max(w.z, 0.0F), 1 - w1);
    return colourOn(face.net, w1, w2);
  }

 private:
  void draw(const scene::Scene& scene, const camera::Camera& camera, visibility::Rasteriser& rasteriser,
            const Pool& pool);
  void markSeen(const std::uint32_t* row);

  // Shares of the corners at a place of the picture, times something: they are linear in it.
  struct Face {
    glm::vec3 at_middle{0};
    glm::vec3 per_u{0};
    glm::vec3 per_v{0};
    PaperNet net;
  };

  int width_px_ = 0;
  int height_px_ = 0;
  glm::vec2 middle_{0};
  std::vector<std::uint32_t> drawn_;
  const std::uint32_t* picture_ = nullptr;
  std::vector<std::uint8_t> seen_;      // by id: 1 where it shows
  std::vector<std::uint32_t> face_of_;  // triangle: index into faces_
  std::vector<Face> faces_;
};

}  // namespace petalproof::light
