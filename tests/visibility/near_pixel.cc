#include "tests/visibility/near_pixel.h"

#include "engine/base/segment.h"

#include <fmt/format.h>

#include <glm/common.hpp>
#include <glm/geometric.hpp>
#include <glm/vec4.hpp>

#include <algorithm>
#include <array>
#include <limits>
#include <stdexcept>

namespace petalproof::testing {
namespace {

constexpr double reach_px = 1.0 / 256;

double cross(glm::dvec2 a, glm::dvec2 b) { return a.x * b.y - a.y * b.x; }

}  // namespace

double NearPixel::Projected::depthAt(glm::dvec2 px) const {
  return std::clamp(depth_at_origin + glm::dot(depth_slope, px), farthest, nearest);
}

double NearPixel::Projected::edgeDistance(glm::dvec2 px) const {
  double distance = 1e30;
  for (std::size_t k = 0; k < 3; ++k) {
    distance = std::min(distance, distanceToSegment(px, corners[k], corners[(k + 1) % 3]));
  }
  return distance;
}

bool NearPixel::Projected::contains(glm::dvec2 px) const {
  const double a = cross(corners[1] - corners[0], px - corners[0]);
  const double b = cross(corners[2] - corners[1], px - corners[1]);
  const double c = cross(corners[0] - corners[2], px - corners[2]);
  return (a >= 0 && b >= 0 && c >= 0) || (a <= 0 && b <= 0 && c <= 0);
}

NearPixel::NearPixel(std::span<const visibility::TriangleBatch> batches, const visibility::RasterView& view) {
  for (const visibility::TriangleBatch& batch : batches) {
    const glm::dmat4x3 worldFromBatch(batch.worldFromBatch);
    for (const auto& triangle : batch.triangles) {
      Projected projected;
      std::array<double, 3> depths{};
      for (std::size_t k = 0; k < 3; ++k) {
        const glm::dvec3 world = worldFromBatch * glm::dvec4(batch.vertices[triangle[k]], 1.0);
        const glm::dvec3 p = view.cameraFromWorld * glm::dvec4(world, 1.0);
        if (!(p.z < 0)) throw std::invalid_argument("a triangle reaches behind the camera");
        depths[k] = -1 / p.z;
        projected.corners[k] = view.principal_px + view.focal_px * depths[k] * glm::dvec2(p.x, -p.y);
      }
      const glm::dvec2 e1 = projected.corners[1] - projected.corners[0];
      const glm::dvec2 e2 = projected.corners[2] - projected.corners[0];
      const double d1 = depths[1] - depths[0];
      const double d2 = depths[2] - depths[0];
      projected.depth_slope = glm::dvec2(d1 * e2.y - d2 * e1.y, d2 * e1.x - d1 * e2.x) / cross(e1, e2);
      projected.depth_at_origin = depths[0] - glm::dot(projected.depth_slope, projected.corners[0]);
      projected.nearest = *std::max_element(depths.begin(), depths.end());
      projected.farthest = *std::min_element(depths.begin(), depths.end());
      projected.id = batch.id;
      projected.low = glm::min(glm::min(projected.corners[0], projected.corners[1]), projected.corners[2]);
      projected.high = glm::max(glm::max(projected.corners[0], projected.corners[1]), projected.corners[2]);
      triangles_.push_back(projected);
    }
  }
}

std::vector<const NearPixel::Projected*> NearPixel::around(glm::dvec2 px) const {
  std::vector<const Projected*> found;
  for (const Projected& t : triangles_) {
    if (px.x < t.low.x - reach_px || px.x > t.high.x + reach_px || px.y < t.low.y - reach_px ||
        px.y > t.high.y + reach_px) {
      continue;
    }
    if (t.contains(px) || t.edgeDistance(px) <= reach_px) found.push_back(&t);
  }
  return found;
}

bool NearPixel::explains(int x, int y, std::uint32_t id_a, std::uint32_t id_b) const {
  const glm::dvec2 px(x + 0.5, y + 0.5);
  const auto triangles = around(px);
  // What certainly shows here: a triangle that the centre lies well inside hides all behind it.
  double hidden_before = 0;
  for (const Projected* t : triangles) {
    if (t->contains(px) && t->edgeDistance(px) > reach_px)
      hidden_before = std::max(hidden_before, t->depthAt(px));
  }
  for (const Projected* t : triangles) {
    if (t->id != id_a && t->id != id_b) continue;
    if (t->edgeDistance(px) <= reach_px && t->depthAt(px) >= hidden_before * (1 - 1e-6)) return true;
  }
  for (const Projected* a : triangles) {
    for (const Projected* b : triangles) {
      if (a->id != id_a || b->id != id_b) continue;
      const double between = std::abs(a->depthAt(px) - b->depthAt(px));
      if (between <= reach_px * glm::length(a->depth_slope - b->depth_slope)) return true;
      // Two sheets almost in one plane cut farther away than that, where rays in single precision no longer
      // tell which is nearer. Then ours must be.
      if (a->contains(px) && a->depthAt(px) > b->depthAt(px) &&
          between <= std::numeric_limits<float>::epsilon() * a->depthAt(px))
        return true;
    }
  }
  return false;
}

std::string NearPixel::describe(int x, int y) const {
  const glm::dvec2 px(x + 0.5, y + 0.5);
  auto triangles = around(px);
  std::sort(triangles.begin(), triangles.end(),
            [&](const Projected* a, const Projected* b) { return a->depthAt(px) > b->depthAt(px); });
  std::string text;
  for (const Projected* t : triangles) {
    text += fmt::format("[id {} depth {:.9f} mm, edge {:.6f} px, {}] ", t->id, 1 / t->depthAt(px),
                        t->edgeDistance(px), t->contains(px) ? "inside" : "outside");
  }
  return text;
}

}  // namespace petalproof::testing
