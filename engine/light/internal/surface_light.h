#pragma once
// Blooms in their light: what each triangle of paper sends out on either side, on a fine net over it.

#include "engine/light/internal/wall_light.h"
#include "engine/scene/scene.h"

#include <glm/vec3.hpp>

#include <algorithm>
#include <cstdint>
#include <map>
#include <span>
#include <utility>
#include <vector>

namespace petalproof::light {

// Lit points over a triangle: rows from one corner, the apex, to the opposite side, its shortest; the apex is
// the first row alone, and each row has its points at even distances.
struct PaperNet {
  const glm::vec3* points = nullptr;
  const std::uint16_t* rows = nullptr;  // the first point of each row, and of one more
  int steps = 0;                        // from the apex to the last row
  bool is_plain = false;                // the three corners alone
};

// The colour at a place of a net; w1, w2: the shares of the two corners that follow the apex.
inline glm::vec3 colourOn(const PaperNet& net, float w1, float w2) {
  if (net.is_plain) return net.points[0] * (1 - w1 - w2) + net.points[1] * w1 + net.points[2] * w2;
  const float s = w1 + w2;
  const float along = s * static_cast<float>(net.steps);
  const float across = s > 0 ? w2 / s : 0;
  const int row = std::min(static_cast<int>(along), net.steps - 1);
  const auto onRow = [&](int k) {
    const int last = net.rows[k + 1] - net.rows[k] - 1;
    const glm::vec3* const points = net.points + net.rows[k];
    const float at = across * static_cast<float>(last);
    const int left = std::min(static_cast<int>(at), std::max(last - 1, 0));
    const float part = at - static_cast<float>(left);
    return points[left] * (1 - part) + points[std::min(left + 1, last)] * part;
  };
  const float part = along - static_cast<float>(row);
  return onRow(row) * (1 - part) + onRow(row + 1) * part;
}

// A triangle of paper from one of its sides; `back`: the one from which its corners run clockwise.
struct PaperSide {
  std::uint32_t bloom = 0;
  std::uint32_t triangle = 0;
  bool back = false;
};

class SurfaceLight {
 public:
  // Refers to `scene`, which must outlive it.
  explicit SurfaceLight(const scene::Scene& scene);
  SurfaceLight(const SurfaceLight&) = delete;
  SurfaceLight& operator=(const SurfaceLight&) = delete;

  // Triangles are numbered through the scene: bloom by bloom, as in its mesh.
  std::size_t triangles() const { return net_at_.size() / 2; }
  std::uint32_t firstOf(std::size_t bloom) const { return first_of_[bloom]; }
  // The net's apex: 0, 1 or 2.
  int apexOf(std::size_t bloom, std::uint32_t triangle) const {
    return layouts_[scene_.blooms[bloom].mesh][triangle - first_of_[bloom]].apex;
  }

  // Adds the places whose light a side needs. `take` gets what arrives there, in the same order; sides that
  // there is room for may take theirs side by side.
  void addSpots(PaperSide side, SharedSpots& spots) const;
  void makeRoomFor(std::span<const PaperSide> sides);
  void take(PaperSide side, std::span<const Arriving> light);
  bool isLit(PaperSide side) const { return net_at_[placeOf(side)] != not_lit; }
  std::size_t spotsOf(PaperSide side) const;

  // Of a side that is lit. Valid until the next call of `makeRoomFor`.
  PaperNet netOf(PaperSide side) const;

 private:
  static constexpr std::uint32_t not_lit = 0xffffffffU;
  struct Layout {  // of a net
    int apex = 0;
    int steps = 1;
    const std::vector<std::uint16_t>* rows = nullptr;
  };
  Layout layoutOf(const scene::Mesh& mesh, const scene::Triangle& triangle);
  const Layout& layoutOf(PaperSide side) const {
    return layouts_[scene_.blooms[side.bloom].mesh][side.triangle - first_of_[side.bloom]];
  }
  static std::size_t placeOf(PaperSide side) { return std::size_t{2} * side.triangle + (side.back ? 1 : 0); }
  template <class Visit>
  void forNet(PaperSide side, const Visit& visit) const;

  const scene::Scene& scene_;
  std::map<std::pair<int, int>, std::vector<std::uint16_t>> rows_;  // by steps along and across
  std::vector<std::vector<Layout>> layouts_;                        // one a triangle, as scene.meshes
  std::vector<std::vector<glm::vec3>> normals_;                     // one a vertex, likewise
  std::vector<std::uint32_t> first_of_;                             // triangle of each bloom
  std::vector<std::uint32_t> net_at_;  // 2 * triangle + back: its first point, or not_lit
  std::vector<glm::vec3> points_;
};

}  // namespace petalproof::light
