#include "viewer/gl/coarse_mesh.h"

#include <glm/common.hpp>
#include <glm/geometric.hpp>
#include <glm/vec3.hpp>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>

namespace petalproof::gl {
namespace {

constexpr std::size_t most_cells = std::size_t{1} << 16;  // bounds the time that a large mesh takes
constexpr unsigned index_bits = 21;                       // three indices fit into 64 bits

// The grid of cells around a mesh.
struct CellGrid {
  glm::vec3 low{0};
  float cell_mm = 1;
  glm::ivec3 count{1};

  std::size_t cellOf(const glm::vec3& v) const {
    const glm::ivec3 at(glm::floor((v - low) / cell_mm));
    return (static_cast<std::size_t>(at.z) * static_cast<std::size_t>(count.y) +
            static_cast<std::size_t>(at.y)) *
               static_cast<std::size_t>(count.x) +
           static_cast<std::size_t>(at.x);
  }
};

// Nothing where the mesh has too many cells.
std::optional<CellGrid> gridAround(const scene::Mesh& mesh, float cell_mm) {
  glm::vec3 low(0);
  glm::vec3 high(0);
  for (const glm::vec3& v : mesh.vertices) {
    low = glm::min(low, v);
    high = glm::max(high, v);
  }
  // Cells begin at the mesh frame's planes, wherever the mesh lies.
  low = cell_mm * glm::floor(low / cell_mm);
  const glm::vec3 count = glm::floor((high - low) / cell_mm) + 2.0F;
  if (!(count.x * count.y * count.z <= static_cast<float>(most_cells))) return std::nullopt;
  return CellGrid{low, cell_mm, glm::ivec3(count)};
}

// For each vertex the index of the vertex that replaces it.
std::vector<std::uint32_t> standIns(const scene::Mesh& mesh, const CellGrid& grid) {
  constexpr std::uint32_t none = ~std::uint32_t{0};
  std::vector<std::uint32_t> chosen(static_cast<std::size_t>(grid.count.x * grid.count.y * grid.count.z),
                                    none);
  const auto outward = [&](std::uint32_t v) { return glm::dot(mesh.vertices[v], mesh.vertices[v]); };
  std::vector<std::size_t> cells;
  cells.reserve(mesh.vertices.size());
  for (std::uint32_t v = 0; v < mesh.vertices.size(); ++v) {
    cells.push_back(grid.cellOf(mesh.vertices[v]));
    std::uint32_t& best = chosen[cells.back()];
    if (best == none || outward(v) > outward(best)) best = v;
  }
  std::vector<std::uint32_t> stand_ins;
  stand_ins.reserve(cells.size());
  for (const std::size_t cell : cells) stand_ins.push_back(chosen[cell]);
  return stand_ins;
}

std::uint64_t packed(scene::Triangle t) {
  // Paper is drawn from both sides, so the order of the corners doesn't matter.
  std::sort(t.begin(), t.end());
  return (std::uint64_t{t[0]} << index_bits | t[1]) << index_bits | t[2];
}

scene::Triangle unpacked(std::uint64_t number) {
  constexpr std::uint64_t mask = (std::uint64_t{1} << index_bits) - 1;
  return {static_cast<std::uint32_t>(number >> (2 * index_bits)),
          static_cast<std::uint32_t>(number >> index_bits & mask), static_cast<std::uint32_t>(number & mask)};
}

}  // namespace

std::vector<scene::Triangle> coarseTriangles(const scene::Mesh& mesh, float cell_mm) {
  if (!(cell_mm > 0) || mesh.vertices.size() >> index_bits != 0) return mesh.triangles;
  const auto grid = gridAround(mesh, cell_mm);
  if (!grid) return mesh.triangles;
  const std::vector<std::uint32_t> stand_ins = standIns(mesh, *grid);
  std::vector<std::uint64_t> coarse;
  for (const scene::Triangle& t : mesh.triangles) {
    const scene::Triangle moved{stand_ins[t[0]], stand_ins[t[1]], stand_ins[t[2]]};
    if (moved[0] != moved[1] && moved[1] != moved[2] && moved[2] != moved[0]) coarse.push_back(packed(moved));
  }
  std::sort(coarse.begin(), coarse.end());
  coarse.erase(std::unique(coarse.begin(), coarse.end()), coarse.end());
  if (2 * coarse.size() > mesh.triangles.size()) return mesh.triangles;
  std::vector<scene::Triangle> triangles;
  for (const std::uint64_t number : coarse) triangles.push_back(unpacked(number));
  return triangles;
}

}  // namespace petalproof::gl
