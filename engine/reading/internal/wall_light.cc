#include "engine/reading/internal/wall_light.h"

#include "engine/base/threads.h"
#include "engine/reading/internal/sky.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace petalproof {
namespace {

constexpr float cell_mm = 2.0F;
constexpr int maps_at_a_time = 8;
constexpr std::size_t spots_at_a_time = 2048;
// A cell's ray passes a point at up to 0.71 cells: that far off its own surface nothing shades itself.
constexpr float lift_mm = 0.75F * cell_mm;

RayBox boxOf(std::span<const LitSpot> spots, const RayFrame& frame) {
  RayBox box{glm::vec2(std::numeric_limits<float>::max()), glm::vec2(std::numeric_limits<float>::lowest())};
  for (const LitSpot& spot : spots) {
    const glm::vec2 p(frame.of(spot.point));
    box.min_mm = glm::min(box.min_mm, p);
    box.max_mm = glm::max(box.max_mm, p);
  }
  return {box.min_mm - 2 * cell_mm, box.max_mm + 2 * cell_mm};
}

// The board lies behind all that casts shadows and needs no lift.
glm::vec3 lifted(const LitSpot& spot, float side) {
  return spot.point.z > 0.01F ? spot.point + spot.face * (side * lift_mm) : spot.point;
}

struct Lit {
  RayFrame frame{glm::vec3(0, 0, 1)};
  DepthMap map;

  bool reaches(const LitSpot& spot) const {
    const glm::vec3 p = frame.of(lifted(spot, glm::dot(spot.face, frame.towards) < 0 ? -1.0F : 1.0F));
    return map.at(p.x, p.y) <= p.z;
  }
};

// Calls take(lamp, lit, k) for each spot k and lamp; those of a spot one after the other, in order.
template <class Take>
void sweep(const TriangleSoup& blooms, std::span<const SkyLamp> lamps, std::span<const LitSpot> spots,
           int threads, const Take& take) {
  if (spots.empty()) return;
  tbb::task_arena arena(usableThreads(threads));
  std::array<Lit, maps_at_a_time> lit;
  for (std::size_t first = 0; first < lamps.size(); first += maps_at_a_time) {
    const std::size_t count = std::min(lamps.size() - first, lit.size());
    arena.execute([&] {
      tbb::parallel_for(std::size_t{0}, count, [&](std::size_t k) {
        lit[k].frame = RayFrame(lamps[first + k].towards);
        lit[k].map.draw(blooms, lit[k].frame, boxOf(spots, lit[k].frame), cell_mm);
      });
      tbb::parallel_for(tbb::blocked_range<std::size_t>(0, spots.size(), spots_at_a_time),
                        [&](const auto& part) {
                          for (std::size_t k = 0; k < count; ++k) {
                            for (std::size_t spot = part.begin(); spot < part.end(); ++spot)
                              take(lamps[first + k], lit[k], spot);
                          }
                        });
    });
  }
}

}  // namespace

TriangleSoup bloomsOf(const Scene& scene) {
  TriangleSoup soup;
  for (const BloomInstance& bloom : scene.blooms) {
    const Mesh& mesh = scene.meshes[bloom.mesh];
    const auto first = static_cast<std::uint32_t>(soup.vertices.size());
    for (const glm::vec3& v : mesh.vertices) soup.vertices.push_back(bloom.wallFromMesh * glm::vec4(v, 1.0F));
    for (const auto& [a, b, c] : mesh.triangles) soup.triangles.push_back({first + a, first + b, first + c});
  }
  return soup;
}

void WallLight::arriving(std::span<const LitSpot> spots, std::vector<Arriving>& light) const {
  light.assign(spots.size(), {});
  sweep(blooms_, skyLamps(), spots, threads_, [&](const SkyLamp& lamp, const Lit& lit, std::size_t k) {
    const float c = glm::dot(spots[k].normal, lamp.towards);
    Arriving& sum = light[k];
    const bool reaches = lit.reaches(spots[k]);
    if (c < 0) {
      sum.dome_passed -= reaches ? c * lamp.dome : 0;
      sum.key_passed -= reaches ? c * lamp.key : 0;
      return;
    }
    (reaches ? sum.dome : sum.dome_hidden) += c * lamp.dome;
    (reaches ? sum.key : sum.key_hidden) += c * lamp.key;
  });
}

void WallLight::openness(std::span<const LitSpot> spots, std::vector<float>& open) const {
  open.assign(spots.size(), 0.0F);
  std::vector<float> all(spots.size(), 0.0F);
  sweep(blooms_, domeLamps(), spots, threads_, [&](const SkyLamp& lamp, const Lit& lit, std::size_t k) {
    const float c = std::max(glm::dot(spots[k].face, lamp.towards), 0.0F) * lamp.dome;
    all[k] += c;
    if (c > 0 && lit.reaches(spots[k])) open[k] += c;
  });
  // The sum over the front half-space of what the integral has there in the open.
  for (std::size_t k = 0; k < spots.size(); ++k) {
    open[k] *= all[k] > 0 ? (1 + spots[k].face.z) / 2 / all[k] : 0;
  }
}

}  // namespace petalproof
