#include "tests/visibility/embree_caster.h"

#include "engine/base/pool.h"

#include <glm/vec4.hpp>

#include <algorithm>
#include <array>
#include <limits>
#include <stdexcept>

namespace petalproof::testing {
namespace {

constexpr int tile_px = 64;

struct FlatMesh {
  std::vector<glm::vec3> vertices;
  std::vector<std::array<std::uint32_t, 3>> triangles;
  std::vector<std::uint32_t> ids;
};

FlatMesh flattened(std::span<const visibility::TriangleBatch> batches, const visibility::RasterView& view) {
  FlatMesh flat;
  for (const visibility::TriangleBatch& batch : batches) {
    const auto first = static_cast<std::uint32_t>(flat.vertices.size());
    const glm::dmat4x3 worldFromBatch(batch.worldFromBatch);
    for (const glm::vec3& v : batch.vertices) {
      const glm::dvec3 world = worldFromBatch * glm::dvec4(v, 1.0);
      flat.vertices.emplace_back(view.cameraFromWorld * glm::dvec4(world, 1.0));
    }
    std::uint32_t id = batch.id;
    for (const auto& [a, b, c] : batch.triangles) {
      flat.triangles.push_back({first + a, first + b, first + c});
      flat.ids.push_back(id);
      if (batch.id_per_triangle) ++id;
    }
  }
  return flat;
}

// Embree keeps a copy of its own.
void attach(RTCDevice device, RTCScene scene, const FlatMesh& flat) {
  RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
  void* vertices = rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3,
                                           sizeof(glm::vec3), flat.vertices.size());
  void* indices = rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                          3 * sizeof(std::uint32_t), flat.triangles.size());
  if (vertices == nullptr || indices == nullptr) throw std::runtime_error("Embree gave no memory");
  std::copy(flat.vertices.begin(), flat.vertices.end(), static_cast<glm::vec3*>(vertices));
  std::copy(flat.triangles.begin(), flat.triangles.end(),
            static_cast<std::array<std::uint32_t, 3>*>(indices));
  rtcCommitGeometry(geometry);
  rtcAttachGeometry(scene, geometry);
  rtcReleaseGeometry(geometry);
}

}  // namespace

EmbreeCaster::EmbreeCaster(std::span<const visibility::TriangleBatch> batches,
                           const visibility::RasterView& view, EmbreeMode mode)
    : device_(rtcNewDevice(nullptr)), scene_(rtcNewScene(device_.get())), view_(view) {
  FlatMesh flat = flattened(batches, view);
  rtcSetSceneFlags(scene_.get(), mode == EmbreeMode::robust ? RTC_SCENE_FLAG_ROBUST : RTC_SCENE_FLAG_NONE);
  if (!flat.triangles.empty()) attach(device_.get(), scene_.get(), flat);
  rtcCommitScene(scene_.get());
  id_of_primitive_ = std::move(flat.ids);
}

void EmbreeCaster::cast(visibility::IdBuffer& out) const {
  const Pool pool;
  out.width_px = view_.width_px;
  out.height_px = view_.height_px;
  const auto pixels = static_cast<std::size_t>(view_.width_px) * static_cast<std::size_t>(view_.height_px);
  out.ids.resize(pixels);
  out.inverse_depths.resize(pixels);
  const int across = (view_.width_px + tile_px - 1) / tile_px;
  const int down = (view_.height_px + tile_px - 1) / tile_px;
  pool.forEach(static_cast<std::size_t>(across) * static_cast<std::size_t>(down), [&](std::size_t k) {
    const int tile = static_cast<int>(k);
    castTile(tile % across * tile_px, tile / across * tile_px, out);
  });
}

void EmbreeCaster::castTile(int x0, int y0, visibility::IdBuffer& out) const {
  for (int y = y0; y < std::min(y0 + tile_px, view_.height_px); y += 4) {
    for (int x = x0; x < std::min(x0 + tile_px, view_.width_px); x += 4) castPacket(x, y, out);
  }
}

void EmbreeCaster::castPacket(int x0, int y0, visibility::IdBuffer& out) const {
  RTCRayHit16 packet;
  alignas(64) std::array<int, 16> valid{};
  for (int k = 0; k < 16; ++k) {
    const int x = x0 + k % 4;
    const int y = y0 + k / 4;
    valid[static_cast<std::size_t>(k)] = x < view_.width_px && y < view_.height_px ? -1 : 0;
    packet.ray.org_x[k] = packet.ray.org_y[k] = packet.ray.org_z[k] = 0;
    packet.ray.dir_x[k] = static_cast<float>((x + 0.5 - view_.principal_px.x) / view_.focal_px);
    packet.ray.dir_y[k] = static_cast<float>((view_.principal_px.y - y - 0.5) / view_.focal_px);
    packet.ray.dir_z[k] = -1;
    packet.ray.tnear[k] = 0;
    packet.ray.tfar[k] = std::numeric_limits<float>::infinity();
    packet.ray.time[k] = 0;
    packet.ray.mask[k] = ~0U;
    packet.ray.id[k] = 0;
    packet.ray.flags[k] = 0;
    packet.hit.geomID[k] = RTC_INVALID_GEOMETRY_ID;
    packet.hit.instID[0][k] = RTC_INVALID_GEOMETRY_ID;
  }
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  context.flags = RTC_INTERSECT_CONTEXT_FLAG_COHERENT;
  rtcIntersect16(valid.data(), scene_.get(), &context, &packet);
  for (int k = 0; k < 16; ++k) {
    if (valid[static_cast<std::size_t>(k)] == 0) continue;
    const auto at = static_cast<std::size_t>(y0 + k / 4) * static_cast<std::size_t>(view_.width_px) +
                    static_cast<std::size_t>(x0 + k % 4);
    const bool hit = packet.hit.geomID[k] != RTC_INVALID_GEOMETRY_ID;
    out.ids[at] = hit ? id_of_primitive_[packet.hit.primID[k]] : 0;
    out.inverse_depths[at] = hit ? 1.0F / packet.ray.tfar[k] : 0.0F;
  }
}

}  // namespace petalproof::testing
