#include "engine/picture/picture.h"

#include "engine/base/colour.h"
#include "engine/camera/projection.h"
#include "engine/light/shading.h"
#include "engine/light/shadow_maps.h"
#include "engine/light/surfaces.h"
#include "engine/picture/internal/people_layer.h"
#include "engine/picture/internal/room.h"
#include "engine/visibility/rasteriser.h"
#include "engine/visibility/visibility_buffer.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace petalproof::picture {
namespace {

constexpr int most_samples = 8;
constexpr std::uint32_t no_object = 0xffffffffU;
constexpr double beside_frame_mm = 250;  // what casts shadows into the frame stands this near to it

// The front-most reach of any bloom, from the board.
double reachOf(const scene::Scene& scene) {
  std::vector<float> highest;
  for (const scene::Mesh& mesh : scene.meshes) {
    float z = 0;
    for (const glm::vec3& v : mesh.vertices) z = std::max(z, v.z);
    highest.push_back(z);
  }
  float reach = 0;
  for (const scene::BloomInstance& bloom : scene.blooms) {
    reach = std::max(reach, (bloom.wallFromMesh * glm::vec4(0, 0, highest[bloom.mesh], 1)).z);
  }
  return reach;
}

// The part of the wall that the frame shows; all of it where a corner of the frame never meets it.
BoardRect shownPart(const camera::Camera& camera, const scene::PanelGrid& panels) {
  const BoardRect all{{0, 0}, {panels.width_mm(), panels.height_mm()}};
  BoardRect shown{all.max_mm, all.min_mm};
  const double w = camera.width_px;
  const double h = camera.height_px;
  for (const glm::dvec2& corner : {glm::dvec2(0, 0), glm::dvec2(w, 0), glm::dvec2(0, h), glm::dvec2(w, h)}) {
    const auto place = camera::boardPointOf(camera, {corner});
    if (!place) return all;
    shown.min_mm = glm::min(shown.min_mm, place->mm);
    shown.max_mm = glm::max(shown.max_mm, place->mm);
  }
  shown.min_mm = glm::clamp(shown.min_mm, all.min_mm, all.max_mm);
  shown.max_mm = glm::clamp(shown.max_mm, all.min_mm, all.max_mm);
  return shown;
}

light::Box litPlace(const scene::Scene& scene, const camera::Camera& camera) {
  const BoardRect shown = shownPart(camera, scene.panels);
  return {glm::dvec3(shown.min_mm - beside_frame_mm, -scene.panels.thickness_mm),
          glm::dvec3(shown.max_mm + beside_frame_mm, std::max(reachOf(scene), 1.0))};
}

// Everything that shading one pixel needs.
struct ShotPainter {
  const scene::Scene& scene;
  const light::Surfaces& surfaces;
  const light::Shading& shading;
  const visibility::IdBuffer& seen;
  const PeopleLayer& people;
  glm::vec3 behind;
  glm::vec3 eye;
  glm::dmat3 wallFromCamera;
  double focal_px;
  int samples;

  light::Ray rayThrough(int x, int y) const {
    const glm::dvec3 d((x + 0.5 - seen.width_px / 2.0) / focal_px,
                       (seen.height_px / 2.0 - y - 0.5) / focal_px, -1.0);
    return {eye, glm::vec3(wallFromCamera * d)};
  }
};

bool sameSheet(const light::SurfacePoint& a, const light::SurfacePoint& b) {
  return a.object == b.object && glm::dot(a.normal, b.normal) > 0.93F &&
         std::abs(glm::dot(a.normal, a.point - b.point)) < 2.0F;
}

// A row of pixels on its way: what each sample sees, and the places whose light that takes. Samples of a
// pixel that see the same piece of paper share a place.
struct Row {
  struct Sample {
    light::SurfacePoint surface;
    glm::vec3 factor{1};      // on the light that the surface sends out
    std::int64_t place = -1;  // -1: `factor` is the colour
  };
  std::vector<Sample> samples;
  std::vector<light::LitPlace> places;
  std::vector<light::Irradiance> light;
};

// In a slit it is dark: the deeper, the darker.
float slitLight(const scene::PanelGrid& panels, const light::SurfacePoint& surface) {
  if (surface.paper || surface.point.z > -0.05F) return 1.0F;
  const glm::dvec3 beside(surface.point + surface.normal * 0.01F);
  const BoardPoint place{{beside.x, beside.y}};
  if (visibility::boardPlaneAt(panels, place).sees() == visibility::Sees::off) return 1.0F;
  return lightInSlit(openingAt(panels, place), -surface.point.z);
}

// A ray that meets no bloom and no board: what stands behind the wall, or the room.
Row::Sample beyond(const ShotPainter& painter, const light::Ray& ray) {
  const scene::PanelGrid& panels = painter.scene.panels;
  Row::Sample sample;
  const glm::vec3 front = ray.from - ray.towards * (ray.from.z / ray.towards.z);
  const BoardPoint place{{front.x, front.y}};
  if (ray.towards.z >= 0 || visibility::boardPlaneAt(panels, place).sees() == visibility::Sees::off) {
    sample.factor = roomColour(panels, linearFromSrgb(painter.scene.colours.room), ray);
    return sample;
  }
  sample.surface = {front, {0, 0, 1}, {0, 0, 1}, painter.behind, no_object, false};
  sample.factor = glm::vec3(lightInSlit(openingAt(panels, place), panels.thickness_mm));
  sample.place = 0;
  return sample;
}

Row::Sample look(const ShotPainter& painter, int x, int y) {
  const light::Ray ray = painter.rayThrough(x, y);
  const std::uint32_t id = painter.seen.id(x, y);
  if (id == 0) return beyond(painter, ray);
  Row::Sample sample;
  sample.surface = painter.surfaces.at(id, ray);
  sample.factor = glm::vec3(slitLight(painter.scene.panels, sample.surface));
  sample.place = 0;
  return sample;
}

// Adds a sample to the row; `first`: the first sample of its pixel.
void add(Row& row, std::size_t first, Row::Sample sample) {
  for (std::size_t k = first; sample.place == 0 && k < row.samples.size(); ++k) {
    if (row.samples[k].place >= 0 && sameSheet(row.samples[k].surface, sample.surface)) {
      sample.place = row.samples[k].place;
      row.samples.push_back(sample);
      return;
    }
  }
  if (sample.place == 0) {
    sample.place = static_cast<std::int64_t>(row.places.size());
    row.places.push_back({sample.surface.point, sample.surface.normal});
  }
  row.samples.push_back(sample);
}

void lookAlong(const ShotPainter& painter, int py, int width, Row& row) {
  row.samples.clear();
  row.places.clear();
  for (int px = 0; px < width; ++px) {
    const std::size_t first = row.samples.size();
    for (int k = 0; k < painter.samples * painter.samples; ++k) {
      add(row, first,
          look(painter, px * painter.samples + k % painter.samples,
               py * painter.samples + k / painter.samples));
    }
  }
}

Colour pixelColour(const ShotPainter& painter, const Row& row, int px, int py) {
  const int count = painter.samples * painter.samples;
  glm::vec3 sum(0.0F);
  for (int k = 0; k < count; ++k) {
    const Row::Sample& sample = row.samples[static_cast<std::size_t>(px * count + k)];
    const glm::vec3 light =
        sample.place < 0
            ? sample.factor
            : sample.factor *
                  light::reflectedBy(sample.surface, row.light[static_cast<std::size_t>(sample.place)]);
    sum += painter.people.over(light, px * painter.samples + k % painter.samples,
                               py * painter.samples + k / painter.samples);
  }
  return srgbFromLinear(sum / static_cast<float>(count));
}

void paintRow(const ShotPainter& painter, int y, Row& row, Image& image) {
  lookAlong(painter, y, image.width_px, row);
  painter.shading.arriving(row.places, row.light);
  for (int x = 0; x < image.width_px; ++x) {
    const Colour colour = pixelColour(painter, row, x, y);
    const std::size_t at = 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                                static_cast<std::size_t>(x));
    image.rgb[at] = colour.red;
    image.rgb[at + 1] = colour.green;
    image.rgb[at + 2] = colour.blue;
  }
}

}  // namespace

Image renderPicture(const scene::Scene& scene, const camera::Camera& camera,
                    const std::vector<plan::Person>& people, const camera::WallFrame& wall, const Pool& pool,
                    const PictureOptions& options) {
  const camera::Camera pixels = camera::scaledTo(camera, options.width_px);
  const int samples = std::clamp(options.samples, 1, most_samples);
  visibility::RasterView view = visibility::rasterViewOf(pixels);
  view.width_px *= samples;
  view.height_px *= samples;
  view.focal_px *= samples;
  view.principal_px *= samples;

  visibility::Rasteriser rasteriser(pool);
  const light::Surfaces surfaces(scene);
  const std::vector<light::Lamp> lamps = light::frontLight();
  const light::ShadowMaps shadows(lamps, surfaces.blooms(), litPlace(scene, pixels), rasteriser);
  const light::Shading shading(lamps, shadows);
  visibility::IdBuffer seen;
  rasteriser.draw(surfaces.batches(), view, seen);
  const PeopleLayer standing(options.people ? people : std::vector<plan::Person>{}, wall, view, seen,
                             rasteriser);

  const ShotPainter painter{scene,
                            surfaces,
                            shading,
                            seen,
                            standing,
                            linearFromSrgb(scene.colours.behind),
                            glm::vec3(pixels.position.mm),
                            glm::transpose(pixels.cameraFromWall),
                            view.focal_px,
                            samples};
  Image image{pixels.width_px, pixels.height_px, {}};
  image.rgb.resize(static_cast<std::size_t>(image.width_px) * static_cast<std::size_t>(image.height_px) * 3);
  PerThread<Row> rows(pool);
  pool.forEach(static_cast<std::size_t>(image.height_px),
               [&](std::size_t y) { paintRow(painter, static_cast<int>(y), rows.mine(), image); });
  return image;
}

}  // namespace petalproof::picture
