#include "engine/candidates/silhouette.h"

#include "engine/candidates/internal/silhouette_runs.h"

#include <glm/vec4.hpp>

#include <algorithm>
#include <limits>

namespace petalproof::candidates {
namespace {

glm::dvec3 onWall(const glm::mat4x3& wallFromMesh, const glm::vec3& vertex) {
  return glm::dvec3(wallFromMesh * glm::vec4(vertex, 1.0F));
}

void findBounds(Silhouette& silhouette) {
  silhouette.min_mm = glm::dvec2(std::numeric_limits<double>::infinity());
  silhouette.max_mm = -silhouette.min_mm;
  for (const scene::Triangle& t : silhouette.triangles)
    for (const std::uint32_t corner : t) {
      silhouette.min_mm = glm::min(silhouette.min_mm, silhouette.corners[corner]);
      silhouette.max_mm = glm::max(silhouette.max_mm, silhouette.corners[corner]);
    }
}

}  // namespace

double doubleArea(glm::dvec2 a, glm::dvec2 b, glm::dvec2 c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

Silhouette silhouetteFrom(const glm::dvec3& eye, const scene::Mesh& mesh, const glm::mat4x3& wallFromMesh) {
  Silhouette made;
  made.corners.reserve(mesh.vertices.size());
  std::vector<char> usable(mesh.vertices.size(), 1);
  for (std::size_t k = 0; k < mesh.vertices.size(); ++k) {
    const glm::dvec3 v = onWall(wallFromMesh, mesh.vertices[k]);
    usable[k] = v.z < eye.z ? 1 : 0;
    const double stretch = usable[k] != 0 ? eye.z / (eye.z - v.z) : 0.0;
    made.corners.push_back(glm::dvec2(eye) + (glm::dvec2(v) - glm::dvec2(eye)) * stretch);
  }
  made.triangles.reserve(mesh.triangles.size());
  for (const scene::Triangle& t : mesh.triangles)
    if (usable[t[0]] != 0 && usable[t[1]] != 0 && usable[t[2]] != 0) made.triangles.push_back(t);
  findBounds(made);
  return made;
}

Silhouette silhouetteHeadOn(const scene::Mesh& mesh, const glm::mat4x3& wallFromMesh) {
  Silhouette made;
  for (const glm::vec3& vertex : mesh.vertices)
    made.corners.push_back(glm::dvec2(onWall(wallFromMesh, vertex)));
  made.triangles = mesh.triangles;
  findBounds(made);
  return made;
}

bool hides(const Silhouette& silhouette, glm::dvec2 p) {
  if (p.x < silhouette.min_mm.x || p.y < silhouette.min_mm.y || p.x > silhouette.max_mm.x ||
      p.y > silhouette.max_mm.y)
    return false;
  for (const scene::Triangle& t : silhouette.triangles) {
    const glm::dvec2 a = silhouette.corners[t[0]];
    const glm::dvec2 b = silhouette.corners[t[1]];
    const glm::dvec2 c = silhouette.corners[t[2]];
    const double u = doubleArea(a, b, p);
    const double v = doubleArea(b, c, p);
    const double w = doubleArea(c, a, p);
    if (((u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0)) && doubleArea(a, b, c) != 0)
      return true;
  }
  return false;
}

PlaceBits frameOf(const Silhouette& silhouette, const PlaceGrid& grid) {
  if (silhouette.triangles.empty()) return {};
  const int column0 = grid.x.firstFrom(silhouette.min_mm.x) / 64 * 64;
  const int row0 = grid.y.firstFrom(silhouette.min_mm.y);
  return {column0, row0, grid.x.firstFrom(silhouette.max_mm.x) + 1 - column0,
          grid.y.firstFrom(silhouette.max_mm.y) + 1 - row0};
}

PlaceBits placesHidden(const Silhouette& silhouette, const PlaceGrid& grid) {
  PlaceBits bits = frameOf(silhouette, grid);
  forEachRun(silhouette, grid, [&](int row, int from, int to, std::size_t) { bits.setRun(row, from, to); });
  return bits;
}

}  // namespace petalproof::candidates
