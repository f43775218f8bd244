#pragma once
// What a test sees of a mesh: rays, the footprint, the relief. Slow and plain.

#include "engine/base/grid.h"
#include "engine/scene/mesh.h"

#include <glm/geometric.hpp>
#include <glm/vec3.hpp>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

namespace petalproof::testing {

// How far along the ray the first triangle is met; nothing if none is.
inline std::optional<double> firstHit(const scene::Mesh& mesh, const glm::dvec3& from,
                                      const glm::dvec3& direction) {
  std::optional<double> first;
  for (const scene::Triangle& t : mesh.triangles) {
    const glm::dvec3 a = mesh.vertices[t[0]];
    const glm::dvec3 ab = glm::dvec3(mesh.vertices[t[1]]) - a;
    const glm::dvec3 ac = glm::dvec3(mesh.vertices[t[2]]) - a;
    const glm::dvec3 p = glm::cross(direction, ac);
    const double det = glm::dot(ab, p);
    if (det == 0) continue;
    const glm::dvec3 s = from - a;
    const double u = glm::dot(s, p) / det;
    const glm::dvec3 q = glm::cross(s, ab);
    const double v = glm::dot(direction, q) / det;
    const double along = glm::dot(ac, q) / det;
    if (u < 0 || v < 0 || u + v > 1 || along < 0) continue;
    if (!first || along < *first) first = along;
  }
  return first;
}

// Height of the mesh seen head-on, -1 where there is none; a square of 2 * half_width around the axis, top
// row first.
inline Grid<double> reliefOf(const scene::Mesh& mesh, double half_width, int samples) {
  Grid<double> relief(samples, samples, -1.0);
  const double step = 2 * half_width / samples;
  for (const scene::Triangle& t : mesh.triangles) {
    const glm::dvec3 a = mesh.vertices[t[0]];
    const glm::dvec3 b = mesh.vertices[t[1]];
    const glm::dvec3 c = mesh.vertices[t[2]];
    const double area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    if (area == 0) continue;
    const auto cell = [&](double mm) { return std::clamp(static_cast<int>(mm / step), 0, samples - 1); };
    for (int j = cell(half_width - std::max({a.y, b.y, c.y}));
         j <= cell(half_width - std::min({a.y, b.y, c.y})); ++j)
      for (int i = cell(half_width + std::min({a.x, b.x, c.x}));
           i <= cell(half_width + std::max({a.x, b.x, c.x})); ++i) {
        const double x = (i + 0.5) * step - half_width;
        const double y = half_width - (j + 0.5) * step;
        const double v = ((x - a.x) * (c.y - a.y) - (y - a.y) * (c.x - a.x)) / area;
        const double w = ((b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x)) / area;
        if (v < 0 || w < 0 || v + w > 1) continue;
        relief.at(i, j) = std::max(relief.at(i, j), a.z + v * (b.z - a.z) + w * (c.z - a.z));
      }
  }
  return relief;
}

// Number of 8-connected pieces of what is there.
inline int piecesOf(Grid<double> relief) {
  int pieces = 0;
  for (int row = 0; row < relief.rows(); ++row)
    for (int column = 0; column < relief.columns(); ++column) {
      if (relief.at(column, row) < 0) continue;
      ++pieces;
      std::vector<std::pair<int, int>> open{{column, row}};
      relief.at(column, row) = -1;
      while (!open.empty()) {
        const auto [x, y] = open.back();
        open.pop_back();
        for (int j = std::max(0, y - 1); j <= std::min(relief.rows() - 1, y + 1); ++j)
          for (int i = std::max(0, x - 1); i <= std::min(relief.columns() - 1, x + 1); ++i) {
            if (relief.at(i, j) < 0) continue;
            relief.at(i, j) = -1;
            open.emplace_back(i, j);
          }
      }
    }
  return pieces;
}

}  // namespace petalproof::testing
