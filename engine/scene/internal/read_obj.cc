#include "engine/scene/internal/read_obj.h"

#include "engine/scene/internal/joined_lines.h"
#include "engine/scene/internal/obj_scan.h"
#include "engine/scene/internal/polygon.h"

#include <tiny_obj_loader.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <sstream>
#include <utility>

namespace petalproof::scene {
namespace {

// Collects the vertices and faces that the loader calls back with; faces become triangles at once.
struct Collector {
  ObjScan scan;
  std::size_t next_exact = 0;  // of the scan's vertices with an exponent
  std::vector<glm::vec3> vertices;
  std::vector<std::vector<std::int64_t>> later;  // faces that name vertices further down
  std::vector<Triangle> triangles;
};

void addFace(Collector& mesh, const std::vector<std::int64_t>& face) {
  const auto [least, most] = std::minmax_element(face.begin(), face.end());
  if (*least < 0 || *most >= static_cast<std::int64_t>(mesh.vertices.size()))
    return;  // the scan refuses these
  std::vector<glm::dvec3> corners;
  for (const std::int64_t index : face) corners.emplace_back(mesh.vertices[static_cast<std::size_t>(index)]);
  for (const Triangle& t : trianglesOfPolygon(corners))
    mesh.triangles.push_back({static_cast<std::uint32_t>(face[t[0]]), static_cast<std::uint32_t>(face[t[1]]),
                              static_cast<std::uint32_t>(face[t[2]])});
}

void onVertex(void* user, tinyobj::real_t x, tinyobj::real_t y, tinyobj::real_t z, tinyobj::real_t) {
  Collector& mesh = *static_cast<Collector*>(user);
  glm::vec3 vertex(x, y, z);
  const auto& exact = mesh.scan.with_exponents;
  if (mesh.next_exact < exact.size() && exact[mesh.next_exact].first == mesh.vertices.size()) {
    const glm::vec3 scanned = exact[mesh.next_exact++].second;
    // The loader reads 0e999 as 0 times infinity.
    if (!std::isfinite(x) || !std::isfinite(y) || !std::isfinite(z)) vertex = scanned;
  }
  mesh.vertices.push_back(vertex);
}

void onFace(void* user, tinyobj::index_t* indices, int count) {
  Collector& mesh = *static_cast<Collector*>(user);
  const auto vertices = static_cast<std::int64_t>(mesh.vertices.size());
  std::vector<std::int64_t> face;
  for (int k = 0; k < count; ++k) {
    const std::int64_t index = indices[k].vertex_index;
    face.push_back(index < 0 ? vertices + index : index - 1);
  }
  if (*std::max_element(face.begin(), face.end()) < vertices)
    addFace(mesh, face);
  else
    mesh.later.push_back(std::move(face));
}

// The text without continued lines and without comments behind faces, which the loader doesn't know.
std::string plainText(std::string_view text) {
  std::string plain = withJoinedLines(text);
  bool remark = false;
  for (char& c : plain) {
    if (c == '#') remark = true;
    if (c == '\n' || c == '\r') remark = false;
    if (remark) c = ' ';
  }
  return plain;
}

// The vertices that faces use: a stray vertex must not count for the mesh's size.
Mesh compacted(const Collector& collected) {
  constexpr auto unused = std::numeric_limits<std::uint32_t>::max();
  std::vector<std::uint32_t> place(collected.vertices.size(), unused);
  Mesh mesh;
  for (Triangle triangle : collected.triangles) {
    for (std::uint32_t& corner : triangle) {
      std::uint32_t& to = place[corner];
      if (to == unused) {
        to = static_cast<std::uint32_t>(mesh.vertices.size());
        mesh.vertices.push_back(collected.vertices[corner]);
      }
      corner = to;
    }
    mesh.triangles.push_back(triangle);
  }
  return mesh;
}

struct Extent {
  double farthest = 0;  // from the z axis
  double low = 0;
  double high = 0;
};

Extent extentOf(const Mesh& mesh) {
  Extent extent{0, mesh.vertices.front().z, mesh.vertices.front().z};
  for (const glm::dvec3 p : mesh.vertices) {
    extent.farthest = std::max(extent.farthest, std::hypot(p.x, p.y));
    extent.low = std::min(extent.low, p.z);
    extent.high = std::max(extent.high, p.z);
  }
  return extent;
}

}  // namespace

Result<Mesh> readObj(std::string_view text, const std::string& file, const ObjLimits& limits) {
  if (text.substr(0, 3) == "\xef\xbb\xbf") text.remove_prefix(3);
  ObjScan scan = scanObj(text, file, limits);
  if (scan.problem) return Result<Mesh>::failure({std::move(*scan.problem)});
  tinyobj::callback_t callbacks;
  callbacks.vertex_cb = onVertex;
  callbacks.index_cb = onFace;
  Collector collected;
  collected.scan = std::move(scan);
  std::istringstream stream(plainText(text));
  std::string warnings;
  std::string errors;
  if (!tinyobj::LoadObjWithCallback(stream, callbacks, &collected, nullptr, &warnings, &errors))
    return Result<Mesh>::failure({file}, "the mesh can't be read: " + errors);
  for (const auto& face : collected.later) addFace(collected, face);
  if (collected.triangles.empty()) return Result<Mesh>::failure({file}, "the mesh has no faces");
  Mesh mesh = compacted(collected);
  if (!(extentOf(mesh).farthest > 0))
    return Result<Mesh>::failure({file}, "the mesh has no extent: all of it lies on the z axis");
  return Result<Mesh>::success(std::move(mesh));
}

Mesh fittedTo(const Mesh& mesh, double diameter_mm, double depth_mm) {
  const Extent extent = extentOf(mesh);
  const double across = 0.5 * diameter_mm / extent.farthest;
  const double thickness = extent.high - extent.low;
  Mesh fitted = mesh;
  for (glm::vec3& p : fitted.vertices) {
    const glm::dvec3 q = p;
    const double z = thickness > 0 ? (q.z - extent.low) / thickness * depth_mm : depth_mm;
    p = glm::vec3(glm::dvec3{q.x * across, q.y * across, z});
  }
  return fitted;
}

}  // namespace petalproof::scene
