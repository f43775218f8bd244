// Pictures whose shares can be worked out by hand.

#include "engine/camera/projection.h"
#include "engine/visibility/visibility_buffer.h"
#include "tests/support/pool.h"
#include "tests/support/random_wall.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace petalproof {
namespace {

constexpr double pi_ = 3.14159265358979323846;

// A wall of 4 x 3 panels of 500 x 400 mm with slits of 10 mm: 2030 x 1220 mm.
scene::Scene bareWall() {
  scene::Scene scene;
  scene::PanelGrid& panels = scene.panels;
  panels.columns = 4;
  panels.rows = 3;
  panels.panel_width_mm = 500;
  panels.panel_height_mm = 400;
  panels.seam_mm = 10;
  panels.has_panel = Grid<std::uint8_t>(4, 3, 1);
  return scene;
}

void addBloom(scene::Scene& scene, scene::Mesh mesh) {
  scene::BloomInstance bloom;
  bloom.mesh = static_cast<std::uint32_t>(scene.meshes.size());
  scene.meshes.push_back(std::move(mesh));
  scene.blooms.push_back(bloom);
}

// Head-on before `target`, `distance` away, a picture of `width` x `height` pixels of `mm_per_px` on the
// wall.
camera::Camera headOn(glm::dvec2 target, double distance, int width, int height, double mm_per_px) {
  camera::Camera camera;
  camera.position.mm = {target, distance};
  camera.width_px = width;
  camera.height_px = height;
  camera.focal_px = distance / mm_per_px;
  return camera;
}

// At `position`, looking at the place `aim` of the board plane, level.
camera::Camera lookingAt(glm::dvec3 position, glm::dvec2 aim, int width, int height, double focal_px) {
  const glm::dvec3 back = glm::normalize(position - glm::dvec3(aim, 0));
  const glm::dvec3 right = glm::normalize(glm::cross(glm::dvec3(0, 1, 0), back));
  camera::Camera camera;
  camera.position.mm = position;
  camera.cameraFromWall = glm::transpose(glm::dmat3(right, glm::cross(back, right), back));
  camera.width_px = width;
  camera.height_px = height;
  camera.focal_px = focal_px;
  return camera;
}

visibility::VisibilityBuffer rendered(const scene::Scene& scene, const camera::Camera& camera,
                                      const std::vector<plan::Person>& people = {}) {
  visibility::VisibilityRenderer renderer(testing::allThreads());
  visibility::VisibilityBuffer buffer;
  renderer.render(scene, camera, people, testing::wallFrameOf(scene.panels), buffer);
  return buffer;
}

// A disc parallel to the board.
scene::Mesh disc(glm::dvec2 at, double radius, double z) {
  const std::uint32_t sides = 2000;
  scene::Mesh mesh;
  mesh.vertices.emplace_back(at.x, at.y, z);
  for (std::uint32_t k = 0; k < sides; ++k) {
    const double turn = 2 * pi_ * k / sides;
    mesh.vertices.emplace_back(at.x + radius * std::cos(turn), at.y + radius * std::sin(turn), z);
    mesh.triangles.push_back({0, 1 + k, 1 + (k + 1) % sides});
  }
  return mesh;
}

// A box from the board to z = depth.
scene::Mesh box(glm::dvec2 low, glm::dvec2 high, double depth) {
  scene::Mesh mesh;
  for (const double z : {0.0, depth}) {
    mesh.vertices.emplace_back(low.x, low.y, z);
    mesh.vertices.emplace_back(high.x, low.y, z);
    mesh.vertices.emplace_back(high.x, high.y, z);
    mesh.vertices.emplace_back(low.x, high.y, z);
  }
  for (const auto& [a, b, c, d] : std::vector<std::array<std::uint32_t, 4>>{
           {4, 5, 6, 7}, {0, 1, 5, 4}, {1, 2, 6, 5}, {2, 3, 7, 6}, {3, 0, 4, 7}}) {
    mesh.triangles.push_back({a, b, c});
    mesh.triangles.push_back({a, c, d});
  }
  return mesh;
}

double sumOf(const visibility::PictureShares& shares) {
  return shares.bloom + shares.board + shares.seam + shares.behind + shares.off;
}

}  // namespace

TEST_CASE("shares of a bare wall, to the pixel") {
  scene::Scene scene = bareWall();
  scene.panels.has_panel.at(1, 1) = 0;
  // 2500 x 1500 mm at 1 mm a pixel around the wall's middle: pixel borders fall on whole millimetres
  const visibility::VisibilityBuffer buffer = rendered(scene, headOn({1015, 610}, 3000, 2500, 1500, 1));
  const visibility::PictureShares shares = sharesOf(buffer, testing::allThreads());
  const double pixels = 2500.0 * 1500;
  CHECK(shares.bloom == 0);
  CHECK(shares.board == doctest::Approx(11 * 500 * 400 / pixels).epsilon(1e-12));
  // Slits: 3 upright of 1220, 2 level of 2030 less the 6 crossings counted twice; around the empty cell four
  // pieces (two of 400, two of 500) are `behind`, its crossings still have three panels.
  const double slits = 10 * (3 * 1220 + 2 * 2030) - 6 * 100;
  const double behind_slits = 10 * (2 * 400 + 2 * 500);
  CHECK(shares.seam == doctest::Approx((slits - behind_slits) / pixels).epsilon(1e-12));
  CHECK(shares.behind == doctest::Approx((500 * 400 + behind_slits) / pixels).epsilon(1e-12));
  CHECK(shares.off == doctest::Approx(1 - 2030 * 1220 / pixels).epsilon(1e-12));
  CHECK(sumOf(shares) == doctest::Approx(1).epsilon(1e-12));
  CHECK(buffer.people.empty());
}

TEST_CASE("share of one disc head-on: its area by similar triangles") {
  scene::Scene scene = bareWall();
  addBloom(scene, disc({1015, 610}, 200, 75));
  const visibility::PictureShares shares =
      sharesOf(rendered(scene, headOn({1015, 610}, 3000, 2000, 1200, 1)), testing::allThreads());
  const double radius = 200 * 3000.0 / (3000 - 75);  // its shadow on the board, 1 mm a pixel
  CHECK(shares.bloom == doctest::Approx(pi_ * radius * radius / (2000.0 * 1200)).epsilon(2e-4));
  CHECK(sumOf(shares) == doctest::Approx(1).epsilon(1e-12));
}

TEST_CASE("a box head-on hides what its front hides") {
  scene::Scene scene = bareWall();
  addBloom(scene, box({915, 560}, {1115, 660}, 150));
  const visibility::VisibilityBuffer buffer = rendered(scene, headOn({1015, 610}, 3000, 2000, 1200, 1));
  const double scale = 3000.0 / (3000 - 150);
  const auto columns =
      std::count_if(buffer.ids.begin() + 600 * 2000, buffer.ids.begin() + 601 * 2000,
                    [](visibility::PixelId id) { return id.sees() == visibility::Sees::bloom; });
  CHECK(columns == doctest::Approx(200 * scale).epsilon(1.01 / 210));
  CHECK(sharesOf(buffer, testing::allThreads()).bloom ==
        doctest::Approx(200 * 100 * scale * scale / (2000.0 * 1200)).epsilon(2e-2));
}

TEST_CASE("a box from the side hides the strip of board that similar triangles give") {
  // The camera 1500 mm to the right of the box's right side and 2000 mm out: seen from there the box's left
  // front edge falls on the board beyond its left side by depth * (offset from the edge) / (distance -
  // depth).
  scene::Scene scene = bareWall();
  const double depth = 120;
  addBloom(scene, box({300, 100}, {500, 1100}, depth));
  const camera::Camera camera = lookingAt({2000, 610, 2000}, {600, 610}, 3000, 60, 3000);
  const visibility::VisibilityBuffer buffer = rendered(scene, camera);
  const double hidden_to = 300 - depth * (2000 - 300) / (2000 - depth);
  for (int x = 0; x < 3000; ++x) {
    const auto place = camera::boardPointOf(camera, {{x + 0.5, 30.5}});
    REQUIRE(place);
    const bool bloom = buffer.id(x, 30).sees() == visibility::Sees::bloom;
    CAPTURE(place->mm.x);
    if (place->mm.x > hidden_to + 0.01 && place->mm.x < 499.99) REQUIRE(bloom);
    if (place->mm.x < hidden_to - 0.01 || place->mm.x > 500.01) REQUIRE_FALSE(bloom);
  }
}

TEST_CASE("depths: the board's, also off the wall, and the bloom's") {
  scene::Scene scene = bareWall();
  addBloom(scene, disc({1015, 610}, 200, 75));
  const visibility::VisibilityBuffer buffer = rendered(scene, headOn({1015, 610}, 3000, 2500, 1500, 1));
  CHECK(buffer.inverse_depths[buffer.offset(1250, 750)] == doctest::Approx(1.0 / 2925).epsilon(1e-6));
  CHECK(buffer.inverse_depths[buffer.offset(300, 200)] == doctest::Approx(1.0 / 3000).epsilon(1e-6));
  CHECK(buffer.inverse_depths[buffer.offset(0, 0)] == doctest::Approx(1.0 / 3000).epsilon(1e-6));
}

TEST_CASE("a ray that never meets the board plane sees nothing") {
  const scene::Scene scene = bareWall();
  // Along the wall: half of the picture looks away from it.
  const camera::Camera camera = lookingAt({200, 600, 300}, {5000, 600}, 800, 200, 300);
  const visibility::VisibilityBuffer buffer = rendered(scene, camera);
  for (int x = 0; x < 800; ++x) {
    const auto place = camera::boardPointOf(camera, {{x + 0.5, 100.5}});
    CHECK((buffer.inverse_depths[buffer.offset(x, 100)] > 0) == place.has_value());
    if (!place) CHECK(buffer.id(x, 100) == visibility::PixelId{});
  }
  CHECK(buffer.id(0, 100).sees() != buffer.id(799, 100).sees());
}

TEST_CASE("each pixel without a bloom is what the board plane has at its place, from any camera") {
  scene::Scene scene = bareWall();
  scene.panels.seam_mm = 1.5875;
  scene.panels.panel_width_mm = 508.0 / 3;
  scene.panels.has_panel.at(2, 0) = 0;
  addBloom(scene, disc({700, 600}, 150, 60));
  const std::vector<camera::Camera> cameras{lookingAt({2500, 300, 40}, {600, 500}, 701, 403, 500),
                                            lookingAt({300, 5000, 900}, {300, 200}, 640, 403, 900),
                                            lookingAt({-3000, 600, 15}, {100, 600}, 1003, 77, 2000),
                                            headOn({scene.panels.left_mm(1), 500}, 2000, 500, 300, 2),
                                            lookingAt({350, 400, 3}, {340, 410}, 512, 384, 200)};
  for (const camera::Camera& camera : cameras) {
    const visibility::VisibilityBuffer buffer = rendered(scene, camera);
    int wrong = 0;
    for (int y = 0; y < camera.height_px; ++y) {
      for (int x = 0; x < camera.width_px; ++x) {
        if (buffer.id(x, y).sees() == visibility::Sees::bloom) continue;
        const auto place = camera::boardPointOf(camera, {{x + 0.5, y + 0.5}});
        wrong += buffer.id(x, y) !=
                         (place ? visibility::boardPlaneAt(scene.panels, *place) : visibility::PixelId{})
                     ? 1
                     : 0;
      }
    }
    CHECK(wrong == 0);
  }
}

TEST_CASE("touching panels leave no crack from any camera") {
  scene::Scene scene = bareWall();
  scene.panels.seam_mm = 0;
  scene.panels.panel_width_mm = 508.0 / 3;
  scene.panels.panel_height_mm = 406.4 / 7;
  for (const double turn : {0.0, 30.0, 80.0, 89.0, 89.9}) {
    CAPTURE(turn);
    camera::Camera camera = testing::cameraOnWall(scene.panels, 1, turn);
    camera.focal_px *= 3;
    const visibility::PictureShares shares = sharesOf(rendered(scene, camera), testing::allThreads());
    CHECK(shares.seam == 0);
    CHECK(shares.behind == 0);
    CHECK(shares.board > 0);
  }
}

TEST_CASE("adding a bloom never adds bare pixels") {
  const std::uint64_t seed = 4242;
  CAPTURE(seed);
  const scene::Scene full = testing::randomWall({3, 2, 6, 1.5, seed});
  const camera::Camera camera = testing::cameraOnWall(full.panels, 0.6, 40);
  visibility::VisibilityRenderer renderer(testing::allThreads());
  visibility::VisibilityBuffer before;
  visibility::VisibilityBuffer after;
  scene::Scene scene = full;
  for (std::size_t blooms = 0; blooms <= full.blooms.size(); ++blooms) {
    CAPTURE(blooms);
    scene.blooms.assign(full.blooms.begin(), full.blooms.begin() + static_cast<std::ptrdiff_t>(blooms));
    renderer.render(scene, camera, {}, testing::wallFrameOf(full.panels), after);
    int added = 0;
    for (std::size_t at = 0; at < before.ids.size(); ++at) {
      added +=
          before.ids[at].sees() == visibility::Sees::bloom && after.ids[at].sees() != visibility::Sees::bloom
              ? 1
              : 0;
    }
    REQUIRE(added == 0);
    std::swap(before, after);
  }
}

TEST_CASE("a mirrored wall gives the mirrored picture") {
  const scene::Scene scene = testing::randomWall({4, 3, 8, 1.5, 77});
  scene::Scene mirrored = scene;
  const auto width = static_cast<float>(scene.panels.width_mm());
  for (scene::BloomInstance& bloom : mirrored.blooms) {
    scene::Mesh& mesh = mirrored.meshes[bloom.mesh];
    for (glm::vec3& v : mesh.vertices) v.x = -v.x;
    // x -> width - x on the wall, x -> -x in the mesh
    bloom.wallFromMesh[1].x = -bloom.wallFromMesh[1].x;
    bloom.wallFromMesh[0].y = -bloom.wallFromMesh[0].y;
    bloom.wallFromMesh[3].x = width - bloom.wallFromMesh[3].x;
  }
  const visibility::VisibilityBuffer one = rendered(scene, testing::cameraOnWall(scene.panels, 2, 25));
  const visibility::VisibilityBuffer two = rendered(mirrored, testing::cameraOnWall(scene.panels, 2, -25));
  const auto mirroredId = [&](visibility::PixelId id) {
    if (id.sees() != visibility::Sees::board) return id;
    const int columns = scene.panels.columns;
    const int column = static_cast<int>(id.index()) % columns;
    return visibility::PixelId{visibility::Sees::board,
                               id.index() + static_cast<std::uint32_t>(columns - 1 - 2 * column)};
  };
  std::size_t different = 0;
  for (int y = 0; y < one.height_px; ++y) {
    for (int x = 0; x < one.width_px; ++x) {
      different += one.id(x, y) != mirroredId(two.id(one.width_px - 1 - x, y)) ? 1 : 0;
    }
  }
  // Places are rounded to float before and after mirroring, so a handful of pixels on edges may differ.
  CHECK(static_cast<double>(different) <= 5e-5 * static_cast<double>(one.ids.size()));
}

TEST_CASE("people hide pixels and change nothing else") {
  scene::Scene scene = bareWall();
  addBloom(scene, disc({1015, 610}, 200, 75));
  const camera::Camera camera = headOn({1015, 610}, 3000, 1000, 800, 2);
  plan::Person person;
  person.height = {1700};
  person.out_from_board = {1000};
  const visibility::VisibilityBuffer alone = rendered(scene, camera);
  const visibility::VisibilityBuffer with = rendered(scene, camera, {person});
  CHECK(with.ids == alone.ids);
  CHECK(with.inverse_depths == alone.inverse_depths);
  const visibility::PictureShares shares = sharesOf(with, testing::allThreads());
  CHECK(shares.people > 0.05);
  CHECK(shares.people < 0.6);
  CHECK(shares.bloom == sharesOf(alone, testing::allThreads()).bloom);
  CHECK(with.people[with.offset(500, 40)] == 1);
  CHECK(with.people[with.offset(20, 20)] == 0);
  person.out_from_board = {-500};  // behind the board: hidden by it
  CHECK(sharesOf(rendered(scene, camera, {person}), testing::allThreads()).people == 0);
}

TEST_CASE("the same buffer for 1, 2 and 7 threads") {
  const scene::Scene scene = testing::randomWall({3, 3, 6, 1.5, 5});
  const camera::Camera camera = testing::cameraOnWall(scene.panels, 1, 45);
  plan::Person person;
  person.height = {1650};
  person.out_from_board = {900};
  visibility::VisibilityBuffer first;
  visibility::VisibilityRenderer(testing::oneThread())
      .render(scene, camera, {person}, testing::wallFrameOf(scene.panels), first);
  for (const int threads : {2, 7}) {
    visibility::VisibilityBuffer other;
    visibility::VisibilityRenderer(Pool(threads))
        .render(scene, camera, {person}, testing::wallFrameOf(scene.panels), other);
    CHECK(other.ids == first.ids);
    CHECK(other.inverse_depths == first.inverse_depths);
    CHECK(other.people == first.people);
  }
}

}  // namespace petalproof
