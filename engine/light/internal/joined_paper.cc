#include "engine/light/internal/joined_paper.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

namespace petalproof::light {
namespace {

// One side of a triangle, by its ends; sorted, those of two neighbours lie side by side.
struct Side {
  std::uint32_t low;
  std::uint32_t high;
  std::uint32_t triangle;
  std::uint32_t opposite;  // corner
  auto key() const { return std::array{low, high, triangle}; }
};

std::vector<Side> sidesOf(const scene::Mesh& mesh) {
  std::vector<Side> sides;
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t a = mesh.triangles[t][k];
      const std::uint32_t b = mesh.triangles[t][(k + 1) % 3];
      sides.push_back({std::min(a, b), std::max(a, b), t, mesh.triangles[t][(k + 2) % 3]});
    }
  }
  std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) { return a.key() < b.key(); });
  return sides;
}

struct Pair {
  float bend_mm;
  std::uint32_t first;  // triangle
  std::uint32_t second;
  Quad quad;
};

// How far the diagonals of a quad pass each other; nothing where it isn't convex.
std::optional<float> bendOf(const scene::Mesh& mesh, const Quad& quad) {
  std::array<glm::vec3, 4> p;
  for (std::size_t k = 0; k < 4; ++k) p[k] = mesh.vertices[quad[k]];
  const glm::vec3 normal = glm::cross(p[2] - p[0], p[3] - p[1]);
  const float area = glm::length(normal);
  if (!(area > 0)) return std::nullopt;
  for (std::size_t k = 0; k < 4; ++k) {
    const glm::vec3 in = p[(k + 1) % 4] - p[k];
    const glm::vec3 out = p[(k + 2) % 4] - p[(k + 1) % 4];
    if (!(glm::dot(glm::cross(in, out), normal) > 0)) return std::nullopt;
  }
  return std::abs(glm::dot(p[1] - p[0], normal)) / area;
}

std::vector<Pair> pairsOf(const scene::Mesh& mesh, float most_mm) {
  const std::vector<Side> sides = sidesOf(mesh);
  std::vector<Pair> pairs;
  for (std::size_t k = 0; k + 1 < sides.size(); ++k) {
    const Side& a = sides[k];
    const Side& b = sides[k + 1];
    if (a.low != b.low || a.high != b.high || a.triangle == b.triangle) continue;
    const Quad quad{a.low, a.opposite, a.high, b.opposite};
    const std::optional<float> bend = bendOf(mesh, quad);
    if (bend && *bend <= most_mm) pairs.push_back({*bend, a.triangle, b.triangle, quad});
  }
  std::stable_sort(pairs.begin(), pairs.end(),
                   [](const Pair& a, const Pair& b) { return a.bend_mm < b.bend_mm; });
  return pairs;
}

}  // namespace

JoinedPaper joinedPaper(const scene::Mesh& mesh, float bend_mm) {
  JoinedPaper joined;
  std::vector<bool> taken(mesh.triangles.size(), false);
  for (const Pair& pair : pairsOf(mesh, bend_mm)) {
    if (taken[pair.first] || taken[pair.second]) continue;
    taken[pair.first] = taken[pair.second] = true;
    joined.quads.push_back(pair.quad);
  }
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (!taken[t]) joined.alone.push_back(mesh.triangles[t]);
  }
  return joined;
}

}  // namespace petalproof::light
