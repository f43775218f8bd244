#pragma once
// Blooms in their light: what each triangle of paper sends out, on a fine net over it. It depends on the
// scene alone, so it is computed once, for the triangles that are seen.

#include "engine/reading/internal/wall_light.h"
#include "engine/scene/scene.h"

#include <glm/vec3.hpp>

#include <cstdint>
#include <span>
#include <vector>

namespace petalproof {

// A triangle from one of its sides. Triangles are numbered through the scene: bloom by bloom, as in its mesh.
struct PaperSide {
  std::uint32_t triangle = 0;
  bool back = false;
};

class SurfaceLight {
 public:
  // Refers to both, which must outlive it.
  SurfaceLight(const Scene& scene, const WallLight& light);

  std::size_t triangles() const { return net_at_.size() / 2; }
  std::uint32_t firstOf(std::size_t bloom) const { return first_of_[bloom]; }

  // Lights those that aren't lit yet.
  void lightUp(std::span<const PaperSide> sides);

  // A net of lit points: (n + 1) (n + 2) / 2 of them, that many steps along each side of the triangle.
  struct Net {
    const glm::vec3* points = nullptr;
    int steps = 0;
  };
  // Of a side that was lit; valid until the next call of lightUp.
  Net netOf(PaperSide side) const;

 private:
  struct Corner;
  void addSpots(PaperSide side, std::vector<LitSpot>& spots, std::vector<glm::vec3>& colours) const;
  std::size_t bloomOf(std::uint32_t triangle) const;

  const Scene& scene_;
  const WallLight& light_;
  std::vector<std::vector<glm::vec3>> normals_;   // one a vertex, as scene.meshes
  std::vector<std::vector<std::uint8_t>> steps_;  // one a triangle, likewise
  std::vector<std::uint32_t> first_of_;           // triangle of each bloom
  std::vector<std::uint32_t> net_at_;             // 2 * triangle + back: its first point, or not_lit
  std::vector<glm::vec3> points_;
};

// What lies at a place of a net; w1, w2: share of the triangle's second and third corner.
inline glm::vec3 colourOn(const SurfaceLight::Net& net, float w1, float w2) {
  const auto n = static_cast<float>(net.steps);
  const int i = static_cast<int>(w1 * n);
  const int j = static_cast<int>(w2 * n);
  const float s = w1 * n - static_cast<float>(i);
  const float t = w2 * n - static_cast<float>(j);
  const glm::vec3* const row = net.points + i * (2 * net.steps + 3 - i) / 2 + j;
  if (i + j >= net.steps) return row[0];  // the corner itself
  const glm::vec3* const next = row + net.steps + 1 - i;
  if (i + j + 1 >= net.steps || s + t <= 1) return row[0] * (1 - s - t) + next[0] * s + row[1] * t;
  return next[1] * (s + t - 1) + row[1] * (1 - s) + next[0] * (1 - t);
}

}  // namespace petalproof
