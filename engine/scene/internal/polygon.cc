#include "engine/scene/internal/polygon.h"

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>

#include <cmath>
#include <cstddef>
#include <numeric>

namespace petalproof::scene {
namespace {

// Twice the area's vector: right for bent polygons too.
glm::dvec3 newellNormal(std::span<const glm::dvec3> corners) {
  glm::dvec3 normal{0};
  for (std::size_t k = 0; k < corners.size(); ++k)
    normal += glm::cross(corners[k] - corners[0], corners[(k + 1) % corners.size()] - corners[0]);
  return normal;
}

// Drops the axis along which the polygon is thinnest, so that it stays counter-clockwise.
std::vector<glm::dvec2> flattened(std::span<const glm::dvec3> corners) {
  const glm::dvec3 normal = newellNormal(corners);
  const glm::dvec3 size = glm::abs(normal);
  std::vector<glm::dvec2> flat;
  for (const glm::dvec3& p : corners) {
    if (size.z >= size.x && size.z >= size.y)
      flat.push_back(normal.z >= 0 ? glm::dvec2{p.x, p.y} : glm::dvec2{p.y, p.x});
    else if (size.x >= size.y)
      flat.push_back(normal.x >= 0 ? glm::dvec2{p.y, p.z} : glm::dvec2{p.z, p.y});
    else
      flat.push_back(normal.y >= 0 ? glm::dvec2{p.z, p.x} : glm::dvec2{p.x, p.z});
  }
  return flat;
}

double turn(const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

bool inside(const glm::dvec2& p, const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& c) {
  return turn(a, b, p) >= 0 && turn(b, c, p) >= 0 && turn(c, a, p) >= 0;
}

// Whether the corner at `k` of the remaining corners can be cut off.
bool isEar(const std::vector<glm::dvec2>& flat, const std::vector<std::uint32_t>& left, std::size_t k) {
  const std::size_t count = left.size();
  const glm::dvec2& a = flat[left[(k + count - 1) % count]];
  const glm::dvec2& b = flat[left[k]];
  const glm::dvec2& c = flat[left[(k + 1) % count]];
  if (turn(a, b, c) <= 0) return false;
  for (const std::uint32_t corner : left) {
    const glm::dvec2& p = flat[corner];
    if (p != a && p != b && p != c && inside(p, a, b, c)) return false;
  }
  return true;
}

}  // namespace

std::vector<Triangle> trianglesOfPolygon(std::span<const glm::dvec3> corners) {
  std::vector<Triangle> triangles;
  if (corners.size() < 3) return triangles;
  if (corners.size() == 3) return {{0, 1, 2}};
  const std::vector<glm::dvec2> flat = flattened(corners);
  std::vector<std::uint32_t> left(corners.size());
  std::iota(left.begin(), left.end(), 0U);
  std::size_t ear = 0;
  std::size_t tried = 0;
  // Continues from the last ear. If no ear is left, the remaining corners cross or have no area: they become
  // a fan.
  while (left.size() > 3 && tried < left.size()) {
    const std::size_t count = left.size();
    ear %= count;
    if (!isEar(flat, left, ear)) {
      ++ear;
      ++tried;
      continue;
    }
    triangles.push_back({left[(ear + count - 1) % count], left[ear], left[(ear + 1) % count]});
    left.erase(left.begin() + static_cast<std::ptrdiff_t>(ear));
    tried = 0;
  }
  for (std::size_t k = 1; k + 1 < left.size(); ++k) triangles.push_back({left[0], left[k], left[k + 1]});
  return triangles;
}

}  // namespace petalproof::scene
