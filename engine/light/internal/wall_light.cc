#include "engine/light/internal/wall_light.h"

#include "engine/base/stopping.h"
#include "engine/light/internal/light_loops.h"
#include "engine/light/light_scale.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace petalproof::light {
namespace {

constexpr float usual_cell_mm = 2.25F;  // coarser, the error in a slot of 20 mm grows beyond 0.03
constexpr float near_mm = NearField::reach_mm - 1;
constexpr float off_surface_mm = 0.02F;
constexpr float bend_mm = 2;  // of paper in a shadow map: little against near_mm

constexpr std::size_t strips_between_looks = 64;  // whether to go on

std::size_t stripsOf(const LitSpots& spots) { return (spots.size() + strip_spots - 1) / strip_spots; }

// The spots' own bounds.
struct Bounds {
  glm::vec3 low{std::numeric_limits<float>::max()};
  glm::vec3 high{std::numeric_limits<float>::lowest()};

  explicit Bounds(const LitSpots& spots) {
    for (std::size_t k = 0; k < spots.size(); ++k) {
      low = glm::min(low, spots.points.at(k));
      high = glm::max(high, spots.points.at(k));
    }
  }
  RayBox along(const RayFrame& frame, float cell_mm) const {
    const glm::vec3 middle = (low + high) / 2.0F;
    const glm::vec3 half = (high - low) / 2.0F;
    const glm::vec2 reach(glm::dot(glm::abs(frame.across), half), glm::dot(glm::abs(frame.up), half));
    const glm::vec2 at = frame.rayOf(middle);
    return {at - reach - 2 * cell_mm, at + reach + 2 * cell_mm};
  }
};

// Of each spot and lamp, whether something near keeps the lamp's light away.
class NearShadows {
 public:
  NearShadows(const NearField& near, const LitSpots& spots, std::span<const SkyLamp> lamps, const Pool& pool,
              const std::stop_token& stop) {
    std::vector<glm::vec3> towards;
    for (const SkyLamp& lamp : lamps) towards.push_back(lamp.towards);
    const LampGroups grouped(towards);
    groups_ = grouped.groups();
    bits_.assign(stripsOf(spots) * groups_ * strip_spots, 0);
    const std::vector<std::uint32_t> order = near.byCell(spots.points);
    pool.forEachWith<NearField::Search>(
        stripsOf(spots), near, [&](std::size_t part, NearField::Search& search) {
          throwIfStopAsked(stop);
          const std::size_t first = part * strip_spots;
          for (std::size_t k = first; k < std::min(spots.size(), first + strip_spots); ++k) {
            const glm::vec3 face = spots.faces.at(order[k]);
            const glm::vec3 point = spots.points.at(order[k]);
            findBlocked(search.findAbove(point, face), point + off_surface_mm * face, grouped,
                        NearField::reach_mm, &bits_[placeOf(order[k])], strip_spots);
          }
        });
  }

  const std::uint8_t* of(std::size_t strip, std::size_t group) const {
    return &bits_[(strip * groups_ + group) * strip_spots];
  }

 private:
  std::size_t placeOf(std::size_t spot) const {
    return spot / strip_spots * groups_ * strip_spots + spot % strip_spots;
  }

  std::size_t groups_ = 0;
  std::vector<std::uint8_t> bits_;  // strip by strip, in it group by group of lamps
};

// Calls take(lamp, first spot, count, share of the lamp's light that reaches each) for each lamp and strip of
// spots; those of a strip one after the other, in order.
template <class Take>
void sweep(const TriangleSoup& blooms, const NearField& near, std::span<const SkyLamp> lamps, float cell_mm,
           const LitSpots& spots, const Take& take, const Pool& pool, const std::stop_token& stop = {}) {
  const NearShadows shadows(near, spots, lamps, pool, stop);
  const Bounds bounds(spots);
  std::array<DepthMap, lamp_group> maps;
  for (std::size_t first = 0; first < lamps.size(); first += lamp_group) {
    const std::size_t count = std::min(lamps.size() - first, maps.size());
    pool.forEach(count, [&](std::size_t k) {
      const RayFrame frame(lamps[first + k].towards);
      maps[k].draw(blooms, frame, bounds.along(frame, cell_mm), cell_mm, stop);
    });
    pool.forEach(stripsOf(spots), [&](std::size_t strip) {
      if (strip % strips_between_looks == 0) throwIfStopAsked(stop);
      const std::size_t from = strip * strip_spots;
      const auto in_strip = static_cast<int>(std::min<std::size_t>(strip_spots, spots.size() - from));
      std::array<float, strip_spots> open;
      for (std::size_t k = 0; k < count; ++k) {
        const MapOfLamp lamp(RayFrame(lamps[first + k].towards), maps[k], near_mm);
        reaching(lamp, {spots.points, from}, {spots.faces, from}, shadows.of(strip, first / lamp_group),
                 static_cast<int>(k), in_strip, open.data());
        take(lamps[first + k], from, in_strip, open.data());
      }
    });
  }
}

// What arrives at spots, lamp by lamp.
struct LightSums {
  explicit LightSums(std::size_t spots)
      : dome(spots),
        dome_open(spots),
        behind(spots),
        behind_open(spots),
        key(spots),
        hidden(spots),
        key_behind(spots) {}

  void add(const SkyLamp& lamp, const LitSpots& spots, std::size_t from, int count, const float* open) {
    const VectorStrip normals(spots.normals, from);
    if (lamp.dome > 0) {
      addDome(lamp.towards, lamp.dome, normals, {spots.faces, from}, open, count,
              {&dome[from], &dome_open[from], &behind[from], &behind_open[from]});
    } else {
      addKey(lamp.towards, lamp.key, normals, open, count, {&key[from], &hidden[from], &key_behind[from]});
    }
  }

  // An even sky over the front half-space gives a surface (1 + z) / 2 of what it gives the board.
  Arriving at(std::size_t k, float normal_z) const {
    const auto part = [](float of, float all) { return all > 0 ? of / all : 0.0F; };
    const float whole = (1 + normal_z) / 2;
    const float open = part(dome_open[k], dome[k]);
    return {
        whole * open, key[k], whole * (1 - open), hidden[k], (1 - whole) * part(behind_open[k], behind[k]),
        key_behind[k]};
  }

  std::vector<float> dome;
  std::vector<float> dome_open;
  std::vector<float> behind;
  std::vector<float> behind_open;
  std::vector<float> key;
  std::vector<float> hidden;
  std::vector<float> key_behind;
};

}  // namespace

TriangleSoup bloomsOf(const scene::Scene& scene) {
  TriangleSoup soup;
  for (const scene::Mesh& mesh : scene.meshes) soup.papers.push_back(joinedPaper(mesh, bend_mm));
  for (const scene::BloomInstance& bloom : scene.blooms) {
    const scene::Mesh& mesh = scene.meshes[bloom.mesh];
    TriangleSoup::Part part;
    part.first_vertex = soup.vertices.size();
    part.paper = bloom.mesh;
    part.middle = bloom.wallFromMesh[3];
    const auto first = static_cast<std::uint32_t>(part.first_vertex);
    for (const glm::vec3& v : mesh.vertices) {
      soup.vertices.push_back(bloom.wallFromMesh * glm::vec4(v, 1.0F));
      part.radius_mm = std::max(part.radius_mm, glm::distance(part.middle, soup.vertices.back()));
      soup.farthest_mm = std::max(soup.farthest_mm, std::abs(soup.vertices.back().z));
    }
    for (const auto& [a, b, c] : mesh.triangles) soup.triangles.push_back({first + a, first + b, first + c});
    part.end_vertex = soup.vertices.size();
    soup.parts.push_back(part);
  }
  return soup;
}

WallLight::WallLight(const scene::Scene& scene, const Pool& pool)
    : blooms_(bloomsOf(scene)),
      near_(blooms_),
      width_mm_(static_cast<float>(scene.panels.width_mm())),
      height_mm_(static_cast<float>(scene.panels.height_mm())),
      cell_mm_(usual_cell_mm * static_cast<float>(lightScale(scene))),
      pool_(pool) {}

void WallLight::arriving(const LitSpots& spots, LightQuality quality, std::vector<Arriving>& light,
                         const std::stop_token& stop) const {
  light.resize(spots.size());
  if (spots.size() == 0) return;
  const std::vector<SkyLamp> lamps = quality == LightQuality::full ? skyLamps() : fewSkyLamps();
  LightSums sums(spots.size());
  sweep(
      blooms_, near_, lamps, cell_mm_, spots,
      [&](const SkyLamp& lamp, std::size_t from, int count, const float* open) {
        sums.add(lamp, spots, from, count, open);
      },
      pool_, stop);
  pool_.forEach(stripsOf(spots), [&](std::size_t strip) {
    const std::size_t end = std::min(spots.size(), (strip + 1) * strip_spots);
    for (std::size_t k = strip * strip_spots; k < end; ++k) light[k] = sums.at(k, spots.normals.z[k]);
  });
}

// Whether the ray from a place towards a direction with z < 0 gets past the wall's outline.
bool WallLight::passesOutline(const glm::vec3& point, const glm::vec3& towards) const {
  const float steps = std::max(point.z, 0.0F) / -towards.z;
  const float x = point.x + towards.x * steps;
  const float y = point.y + towards.y * steps;
  return x < 0 || y < 0 || x > width_mm_ || y > height_mm_;
}

// By cosine, of the part of the hemisphere about the face that lies in the lamps' half-space.
void WallLight::openTo(std::span<const SkyLamp> lamps, const LitSpots& spots,
                       std::vector<float>& open) const {
  open.assign(spots.size(), 0.0F);
  if (spots.size() == 0) return;
  std::vector<float> all(spots.size(), 0.0F);
  const auto take = [&](const SkyLamp& lamp, std::size_t from, int count, const float* reaching) {
    for (std::size_t k = from; k < from + static_cast<std::size_t>(count); ++k) {
      const float c = glm::dot(spots.faces.at(k), lamp.towards) * lamp.dome;
      if (c <= 0) continue;
      all[k] += c;
      if (lamp.towards.z > 0 || passesOutline(spots.points.at(k), lamp.towards)) {
        open[k] += c * reaching[k - from];
      }
    }
  };
  sweep(blooms_, near_, lamps, cell_mm_, spots, take, pool_);
  for (std::size_t k = 0; k < spots.size(); ++k) open[k] = all[k] > 0 ? open[k] / all[k] : 0;
}

void WallLight::openness(const LitSpots& spots, std::vector<float>& open) const {
  std::vector<SkyLamp> lamps = domeLamps();
  openTo(lamps, spots, open);
  for (SkyLamp& lamp : lamps) lamp.towards.z = -lamp.towards.z;
  LitSpots tilted;  // to the back half-space too
  for (std::size_t k = 0; k < spots.size(); ++k) {
    if (spots.faces.z[k] < 0.9999F)
      tilted.push_back({spots.points.at(k), spots.normals.at(k), spots.faces.at(k)});
  }
  std::vector<float> behind;
  openTo(lamps, tilted, behind);
  auto next = behind.begin();
  for (std::size_t k = 0; k < spots.size(); ++k) {
    const float z = spots.faces.z[k];
    const float front = (1 + z) / 2;
    open[k] *= front;
    if (z < 0.9999F) open[k] += (1 - front) * *next++;
  }
}

}  // namespace petalproof::light
