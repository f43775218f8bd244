// The rasteriser against Embree's rays, and every pixel on which they differ looked into.

#include "engine/camera/camera.h"
#include "engine/camera/projection.h"
#include "engine/plan/read_plan.h"
#include "engine/visibility/visibility_buffer.h"
#include "tests/support/pool.h"
#include "tests/support/random_wall.h"
#include "tests/support/sanitized.h"
#include "tests/visibility/embree_caster.h"
#include "tests/visibility/near_pixel.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

namespace petalproof {
namespace {

using testing::EmbreeCaster;
using testing::EmbreeMode;
using testing::NearPixel;

// At least 99.998 % of the ids agree, and each other pixel lies within 1/256 px of an edge or of the curve
// where two blooms cut through each other, or Embree's single precision took the farther of two for the
// nearer.
void checkAgainstEmbree(const scene::Scene& scene, const camera::Camera& camera,
                        visibility::Rasteriser& rasteriser) {
  const auto batches = visibility::batchesOf(scene);
  const visibility::RasterView view = visibility::rasterViewOf(camera);
  visibility::IdBuffer ours;
  visibility::IdBuffer embree;
  rasteriser.draw(batches, view, ours);
  EmbreeCaster(batches, view, EmbreeMode::robust).cast(embree);
  const NearPixel near_pixel(batches, view);
  std::size_t different = 0;
  std::size_t unexplained = 0;
  for (int y = 0; y < view.height_px; ++y) {
    for (int x = 0; x < view.width_px; ++x) {
      if (ours.id(x, y) == embree.id(x, y)) continue;
      ++different;
      if (near_pixel.explains(x, y, ours.id(x, y), embree.id(x, y))) continue;
      ++unexplained;
      MESSAGE("pixel " << x << ", " << y << ": ours " << ours.id(x, y) << ", Embree " << embree.id(x, y)
                       << "; " << near_pixel.describe(x, y));
    }
  }
  const double share = static_cast<double>(different) / static_cast<double>(ours.ids.size());
  CAPTURE(different);
  CHECK(share <= 2e-5);
  CHECK(unexplained == 0);
}

// One batch a panel that is there, id = index + 1: its face on the board plane.
struct PanelFaces {
  std::vector<std::array<glm::vec3, 4>> corners;
  std::vector<scene::Triangle> triangles{{0, 1, 2}, {0, 2, 3}};
  std::vector<visibility::TriangleBatch> batches;

  explicit PanelFaces(const scene::PanelGrid& panels) {
    corners.reserve(panels.has_panel.cells().size());
    for (int row = 0; row < panels.rows; ++row) {
      for (int column = 0; column < panels.columns; ++column) {
        const double left = panels.left_mm(column);
        const double top = panels.top_mm(row);
        const double right = left + panels.panel_width_mm;
        const double bottom = top - panels.panel_height_mm;
        corners.push_back({glm::vec3(left, bottom, 0), glm::vec3(right, bottom, 0), glm::vec3(right, top, 0),
                           glm::vec3(left, top, 0)});
        batches.push_back({corners.back(), triangles, glm::mat4x3(1.0F),
                           static_cast<std::uint32_t>(row * panels.columns + column + 1), false});
      }
    }
  }
};

double distanceToEdges(const scene::PanelGrid& panels, glm::dvec2 place) {
  double distance = 1e9;
  for (int column = 0; column < panels.columns; ++column) {
    const double left = panels.left_mm(column);
    distance =
        std::min({distance, std::abs(place.x - left), std::abs(place.x - left - panels.panel_width_mm)});
  }
  for (int row = 0; row < panels.rows; ++row) {
    const double top = panels.top_mm(row);
    distance =
        std::min({distance, std::abs(place.y - top), std::abs(place.y - top + panels.panel_height_mm)});
  }
  return distance;
}

}  // namespace

TEST_CASE("the board between the blooms agrees with Embree's view of the panels") {
  scene::Scene scene = testing::randomWall({5, 4, 2, 3.0, 31});
  scene.blooms.clear();
  const PanelFaces faces(scene.panels);
  visibility::VisibilityRenderer renderer(testing::allThreads());
  visibility::VisibilityBuffer ours;
  visibility::IdBuffer embree;
  for (const double turn_deg : {0.0, 40.0, -75.0}) {
    CAPTURE(turn_deg);
    const camera::Camera camera = testing::cameraOnWall(scene.panels, 1, turn_deg);
    renderer.render(scene, camera, {}, testing::wallFrameOf(scene.panels), ours);
    EmbreeCaster(faces.batches, visibility::rasterViewOf(camera), EmbreeMode::robust).cast(embree);
    int wrong = 0;
    int compared = 0;
    for (int y = 0; y < camera.height_px; ++y) {
      for (int x = 0; x < camera.width_px; ++x) {
        const auto place = camera::boardPointOf(camera, {{x + 0.5, y + 0.5}});
        if (place && distanceToEdges(scene.panels, place->mm) < 0.01) continue;
        ++compared;
        const visibility::PixelId id = ours.id(x, y);
        const std::uint32_t expected = embree.id(x, y);
        wrong += (id.sees() == visibility::Sees::board ? id.index() + 1 : 0) != expected ? 1 : 0;
      }
    }
    CHECK(wrong == 0);
    CHECK(compared > 970'000);
  }
}

TEST_CASE("a shot seen with its triangles is the same shot, and the triangles are those seen by themselves") {
  const scene::Scene scene = testing::randomWall({4, 3, 6, 3.0, 5});
  const camera::Camera camera = testing::cameraOnWall(scene.panels, 2, 35);
  const camera::WallFrame wall = testing::wallFrameOf(scene.panels);
  visibility::VisibilityRenderer renderer(testing::allThreads());
  visibility::VisibilityBuffer plain;
  visibility::VisibilityBuffer with_triangles;
  renderer.render(scene, camera, {}, wall, plain);
  renderer.render(scene, camera, {}, wall, with_triangles, visibility::VisibilityRenderer::Triangles::asked);
  CHECK(with_triangles.ids == plain.ids);
  CHECK(with_triangles.inverse_depths == plain.inverse_depths);
  CHECK(plain.triangles.empty());

  visibility::IdBuffer alone;
  visibility::Rasteriser(testing::oneThread())
      .draw(visibility::triangleBatchesOf(scene), visibility::rasterViewOf(camera), alone);
  CHECK(with_triangles.triangles == alone.ids);
  CHECK(std::count(alone.ids.begin(), alone.ids.end(), 0U) > 0);
  CHECK(std::count(alone.ids.begin(), alone.ids.end(), 1U) <
        std::count(plain.ids.begin(), plain.ids.end(), visibility::PixelId(visibility::Sees::bloom, 0)));
}

TEST_CASE("pixels are not explained lightly") {
  const scene::Scene scene = testing::randomWall(testing::smallWall(1));
  const auto batches = visibility::batchesOf(scene);
  const visibility::RasterView view = visibility::rasterViewOf(testing::cameraOnWall(scene.panels, 6, 20));
  visibility::Rasteriser rasteriser(testing::allThreads());
  visibility::IdBuffer ours;
  rasteriser.draw(batches, view, ours);
  const NearPixel near_pixel(batches, view);
  int asked = 0;
  int explained = 0;
  for (int y = 7; y < view.height_px; y += 41) {
    for (int x = 5; x < view.width_px; x += 43) {
      const std::uint32_t id = ours.id(x, y);
      if (id == 0) continue;
      ++asked;
      explained += near_pixel.explains(x, y, id, id > 1 ? id - 1 : id + 1) ? 1 : 0;
    }
  }
  CHECK(asked > 1500);
  CHECK(explained < asked / 50);
}

TEST_CASE("ten random walls at 6 megapixels agree with Embree") {
  visibility::Rasteriser rasteriser(testing::allThreads());
  for (std::uint64_t seed = 1; seed <= testing::fewerIfSanitized<std::uint64_t>(10); ++seed) {
    CAPTURE(seed);
    const scene::Scene scene = testing::randomWall(testing::smallWall(seed));
    const double turn_deg = -60.0 + 13.0 * static_cast<double>(seed);
    checkAgainstEmbree(scene, testing::cameraOnWall(scene.panels, 6, turn_deg), rasteriser);
  }
}

TEST_CASE("the plans that come with the program agree with Embree, shot by shot") {
  visibility::Rasteriser rasteriser(testing::allThreads());
  int plans = 0;
  for (const auto& entry : std::filesystem::directory_iterator(PETALPROOF_SOURCE_DIR "/assets/plans")) {
    if (entry.path().extension() != ".toml") continue;
    CAPTURE(entry.path().string());
    ++plans;
    const Result<plan::LoadedPlan> loaded = plan::loadPlan(entry.path());
    REQUIRE(loaded);
    const Result<scene::Scene> scene = scene::buildScene(*loaded.value);
    REQUIRE(scene);
    for (plan::Shot shot : loaded.value->plan.shots) {
      CAPTURE(shot.name);
      shot.megapixels = 6.5;  // the crop takes some
      const Result<camera::Camera> camera = camera::makeCamera(shot, camera::wallFrameOf(loaded.value->plan));
      REQUIRE(camera);
      checkAgainstEmbree(*scene.value, *camera.value, rasteriser);
    }
  }
  CHECK(plans >= 2);
}

}  // namespace petalproof
