#include "engine/scene/board_boxes.h"

#include <array>

namespace petalproof::scene {

Mesh boardBox(const PanelGrid& panels, int column, int row) {
  const double left = panels.left_mm(column);
  const double top = panels.top_mm(row);
  const double xs[2] = {left, left + panels.panel_width_mm};
  const double ys[2] = {top - panels.panel_height_mm, top};
  const double zs[2] = {-panels.thickness_mm, 0.0};
  // Corner numbers by bits: 1 right, 2 top, 4 front; each face counter-clockwise seen from outside.
  static constexpr std::array<std::array<std::uint32_t, 4>, 6> faces{
      {{4, 5, 7, 6}, {1, 0, 2, 3}, {0, 4, 6, 2}, {5, 1, 3, 7}, {6, 7, 3, 2}, {0, 1, 5, 4}}};
  Mesh box;
  for (const auto& face : faces) {  // corners of their own: the edges are sharp
    const auto first = static_cast<std::uint32_t>(box.vertices.size());
    for (const std::uint32_t corner : face)
      box.vertices.emplace_back(glm::dvec3{xs[corner & 1], ys[corner >> 1 & 1], zs[corner >> 2 & 1]});
    box.triangles.push_back({first, first + 1, first + 2});
    box.triangles.push_back({first, first + 2, first + 3});
  }
  return box;
}

}  // namespace petalproof::scene
