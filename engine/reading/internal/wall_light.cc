#include "engine/reading/internal/wall_light.h"

#include "engine/base/threads.h"
#include "engine/reading/internal/sky.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace petalproof {
namespace {

constexpr float cell_mm = 2.5F;
constexpr int maps_at_a_time = 8;
constexpr std::size_t spots_at_a_time = 1024;
constexpr float near_mm = NearField::reach_mm - 1;
constexpr float off_surface_mm = 0.02F;
// A surface seen more edge-on than this counts as this steep.
constexpr float least_facing = 0.005F;

RayBox boxOf(std::span<const LitSpot> spots, const RayFrame& frame) {
  RayBox box{glm::vec2(std::numeric_limits<float>::max()), glm::vec2(std::numeric_limits<float>::lowest())};
  for (const LitSpot& spot : spots) {
    const glm::vec2 p(frame.of(spot.point));
    box.min_mm = glm::min(box.min_mm, p);
    box.max_mm = glm::max(box.max_mm, p);
  }
  return {box.min_mm - 2 * cell_mm, box.max_mm + 2 * cell_mm};
}

std::size_t partsOf(std::size_t spots) { return (spots + spots_at_a_time - 1) / spots_at_a_time; }

// What stands close to each spot, in front of it.
class Neighbours {
 public:
  Neighbours(const NearField& near, std::span<const LitSpot> spots)
      : near_(near), parts_(partsOf(spots.size())) {
    forEach(parts_.size(), [&](std::size_t part) {
      Part& made = parts_[part];
      const std::size_t end = std::min(spots.size(), (part + 1) * spots_at_a_time);
      for (std::size_t k = part * spots_at_a_time; k < end; ++k) {
        made.first.push_back(static_cast<std::uint32_t>(made.blades.size()));
        near.addAbove(spots[k].point, spots[k].face, made.blades);
      }
      made.first.push_back(static_cast<std::uint32_t>(made.blades.size()));
    });
  }

  std::span<const std::uint32_t> of(std::size_t spot) const {
    const Part& part = parts_[spot / spots_at_a_time];
    const std::size_t k = spot % spots_at_a_time;
    return std::span(part.blades).subspan(part.first[k], part.first[k + 1] - part.first[k]);
  }
  bool block(std::size_t k, const LitSpot& spot, const glm::vec3& towards) const {
    return near_.blocks(of(k), spot.point + off_surface_mm * spot.face, towards);
  }

 private:
  struct Part {
    std::vector<std::uint32_t> first;
    std::vector<std::uint32_t> blades;
  };
  const NearField& near_;
  std::vector<Part> parts_;
};

struct Lit {
  RayFrame frame{glm::vec3(0, 0, 1)};
  DepthMap map;

  // The share of the lamp's light that gets to spot `k` on the side that faces the lamp, 0 to 1: by the four
  // cells around it, each against the spot's own plane. What is less than `near_mm` above that may be the
  // surface itself, bent, or another petal that touches it: exact rays to its neighbours tell.
  float reaching(const LitSpot& spot, std::size_t k, const Neighbours& neighbours) const {
    const glm::vec3 p = frame.of(spot.point);
    const glm::vec3 n = frame.of(spot.face);
    const float slope = (n.z < 0 ? cell_mm : -cell_mm) / std::max(std::abs(n.z), least_facing);
    const DepthMap::Around cells = map.around(p.x, p.y);
    const FourFloats across{-cells.s, 1 - cells.s, -cells.s, 1 - cells.s};
    const FourFloats up{-cells.t, -cells.t, 1 - cells.t, 1 - cells.t};
    const FourFloats above = cells.depths - (p.z + n.x * slope * across + n.y * slope * up);
    const FourInts low = above < near_mm;
    const FourInts doubts = low & (above > NearField::touching_mm);
    const FourFloats shares = low ? cells.shares : FourFloats{0, 0, 0, 0};
    const float open = (shares[0] + shares[1]) + (shares[2] + shares[3]);
    const bool doubtful = (doubts[0] | doubts[1] | doubts[2] | doubts[3]) != 0;
    if (open == 0 || !doubtful || n.z < 0) return open;
    return neighbours.block(k, spot, frame.towards) ? 0 : open;
  }
};

// Calls take(lamp, k, share of the lamp's light that reaches it) for each spot k and lamp; those of a spot
// one after the other, in order.
template <class Take>
void sweep(const TriangleSoup& blooms, const NearField& near, std::span<const SkyLamp> lamps,
           std::span<const LitSpot> spots, int threads, const Take& take) {
  if (spots.empty()) return;
  Workers workers(threads);
  std::array<Lit, maps_at_a_time> lit;
  workers.run([&] {
    const Neighbours neighbours(near, spots);
    for (std::size_t first = 0; first < lamps.size(); first += maps_at_a_time) {
      const std::size_t count = std::min(lamps.size() - first, lit.size());
      forEach(count, [&](std::size_t k) {
        lit[k].frame = RayFrame(lamps[first + k].towards);
        lit[k].map.draw(blooms, lit[k].frame, boxOf(spots, lit[k].frame), cell_mm);
      });
      forEach(partsOf(spots.size()), [&](std::size_t part) {
        const std::size_t end = std::min(spots.size(), (part + 1) * spots_at_a_time);
        for (std::size_t k = 0; k < count; ++k) {
          for (std::size_t spot = part * spots_at_a_time; spot < end; ++spot) {
            take(lamps[first + k], spot, lit[k].reaching(spots[spot], spot, neighbours));
          }
        }
      });
    }
  });
}

}  // namespace

TriangleSoup bloomsOf(const Scene& scene) {
  TriangleSoup soup;
  for (const BloomInstance& bloom : scene.blooms) {
    const Mesh& mesh = scene.meshes[bloom.mesh];
    TriangleSoup::Part part;
    part.first_vertex = soup.vertices.size();
    part.first_triangle = soup.triangles.size();
    part.middle = bloom.wallFromMesh[3];
    const auto first = static_cast<std::uint32_t>(part.first_vertex);
    for (const glm::vec3& v : mesh.vertices) {
      soup.vertices.push_back(bloom.wallFromMesh * glm::vec4(v, 1.0F));
      part.radius_mm = std::max(part.radius_mm, glm::distance(part.middle, soup.vertices.back()));
    }
    for (const auto& [a, b, c] : mesh.triangles) soup.triangles.push_back({first + a, first + b, first + c});
    part.end_vertex = soup.vertices.size();
    part.end_triangle = soup.triangles.size();
    soup.parts.push_back(part);
  }
  return soup;
}

WallLight::WallLight(const Scene& scene, int threads)
    : blooms_(bloomsOf(scene)),
      near_(blooms_),
      width_mm_(static_cast<float>(scene.panels.width_mm())),
      height_mm_(static_cast<float>(scene.panels.height_mm())),
      threads_(threads) {}

void WallLight::add(std::span<const SkyLamp> lamps, std::span<const LitSpot> spots,
                    std::span<Arriving> light) const {
  sweep(blooms_, near_, lamps, spots, threads_, [&](const SkyLamp& lamp, std::size_t k, float open) {
    const float c = glm::dot(spots[k].normal, lamp.towards);
    Arriving& sum = light[k];
    if (c < 0) {
      sum.dome_passed -= open * c * lamp.dome;
      sum.key_passed -= open * c * lamp.key;
      return;
    }
    sum.dome += open * c * lamp.dome;
    sum.key += open * c * lamp.key;
    sum.dome_hidden += (1 - open) * c * lamp.dome;
    sum.key_hidden += (1 - open) * c * lamp.key;
  });
}

void WallLight::arriving(std::span<const LitSpot> spots, LightQuality quality,
                         std::vector<Arriving>& light) const {
  light.assign(spots.size(), {});
  add(quality == LightQuality::full ? skyLamps() : fewSkyLamps(), spots, light);
}

// Whether the ray from a place towards a direction with z < 0 gets past the wall's outline.
bool WallLight::passesOutline(const glm::vec3& point, const glm::vec3& towards) const {
  const float steps = std::max(point.z, 0.0F) / -towards.z;
  const float x = point.x + towards.x * steps;
  const float y = point.y + towards.y * steps;
  return x < 0 || y < 0 || x > width_mm_ || y > height_mm_;
}

// By cosine, of the part of the hemisphere about `face` that lies in the lamps' half-space.
void WallLight::openTo(std::span<const SkyLamp> lamps, std::span<const LitSpot> spots,
                       std::vector<float>& open) const {
  open.assign(spots.size(), 0.0F);
  std::vector<float> all(spots.size(), 0.0F);
  sweep(blooms_, near_, lamps, spots, threads_, [&](const SkyLamp& lamp, std::size_t k, float reaching) {
    const float c = glm::dot(spots[k].face, lamp.towards) * lamp.dome;
    if (c <= 0) return;
    all[k] += c;
    if (lamp.towards.z > 0 || passesOutline(spots[k].point, lamp.towards)) {
      open[k] += c * reaching;
    }
  });
  for (std::size_t k = 0; k < spots.size(); ++k) open[k] = all[k] > 0 ? open[k] / all[k] : 0;
}

void WallLight::openness(std::span<const LitSpot> spots, std::vector<float>& open) const {
  std::vector<SkyLamp> lamps = domeLamps();
  openTo(lamps, spots, open);
  for (SkyLamp& lamp : lamps) lamp.towards.z = -lamp.towards.z;
  std::vector<LitSpot> tilted;  // to the back half-space too
  for (const LitSpot& spot : spots) {
    if (spot.face.z < 0.9999F) tilted.push_back(spot);
  }
  std::vector<float> behind;
  openTo(lamps, tilted, behind);
  auto next = behind.begin();
  for (std::size_t k = 0; k < spots.size(); ++k) {
    const float front = (1 + spots[k].face.z) / 2;
    open[k] *= front;
    if (spots[k].face.z < 0.9999F) open[k] += (1 - front) * *next++;
  }
}

}  // namespace petalproof
