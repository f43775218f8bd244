#include "engine/report/marked_picture.h"
#include "engine/camera/projection.h"

#include "engine/report/internal/bare_marks.h"
#include "engine/report/internal/gap_marks.h"
#include "engine/report/internal/projected_outlines.h"
#include "engine/report/internal/sheet.h"
#include "tests/report/made_up.h"
#include "tests/report/pixel.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof {
using testing::pixel;

namespace {

constexpr double small_px = 8.2e5;  // pictures wide enough to fill the sheet
constexpr Colour board{240, 235, 225};

scene::Scene bareScene() {
  scene::Scene scene;
  scene.panels = made_up::panels();
  scene.colours = {board, board, {46, 43, 42}, {143, 138, 132}};
  return scene;
}

plan::LoadedPlan plan() {
  plan::LoadedPlan loaded = made_up::plan();
  loaded.plan.wall.columns = 2;
  loaded.plan.wall.rows = 2;
  loaded.plan.wall.panel = {{20}, {16}};
  loaded.plan.wall.seam = {1.0 / 16};
  return loaded;
}

// Head-on from 2 m at the middle of the upper left panel, 480 x 360 mm of it in 640 x 480 pixels.
check::ShotCheck shotOfPanel() {
  check::ShotCheck shot = made_up::shot();
  shot.camera.position.mm = {254, 600, 2000};
  shot.camera.width_px = 640;
  shot.camera.height_px = 480;
  shot.camera.focal_px = 640 * 2000.0 / 480;
  return shot;
}

bool dark(Colour colour) { return colour.red < 90 && colour.green < 110; }

double distanceTo(const report::PixelOutline& outline, glm::dvec2 p) {
  double least = 1e9;
  for (std::size_t k = 0; k + 1 < outline.size(); ++k) {
    const glm::dvec2 along = outline[k + 1] - outline[k];
    const double t = std::clamp(glm::dot(p - outline[k], along) / glm::dot(along, along), 0.0, 1.0);
    least = std::min(least, glm::distance(p, outline[k] + t * along));
  }
  return least;
}

TEST_CASE("a gap's outline is drawn within 2 px of where it projects to, all around, and nowhere else") {
  // Drawn by the parts that the marked picture is made of, on plain paper.
  const check::ShotCheck shot = shotOfPanel();
  const camera::Camera camera = camera::scaledTo(shot.camera, 1280);
  for (const reading::Reads reads : {reading::Reads::shows, reading::Reads::faint, reading::Reads::lost}) {
    CAPTURE(nameOf(reads));
    gaps::GapsOfShot found;
    found.gaps = {made_up::gap(1, {gaps::GapKind::seam, 0, 0, true}, {254, 600}, 120, 60)};
    made_up::addHoles(found);
    const auto outlines = report::projectedOutlines(found, camera);
    // In closed form: 1280 px are 480 mm, so 60 x 120 mm are 160 x 320 px around the middle.
    REQUIRE(outlines.size() == 1);
    CHECK(outlines[0][0].x == doctest::Approx(640 - 80));
    CHECK(outlines[0][0].y == doctest::Approx(480 + 160));
    CHECK(outlines[0][2].x == doctest::Approx(640 + 80));
    CHECK(outlines[0][2].y == doctest::Approx(480 - 160));

    report::Drawing drawing(1300, 1000, {200, 60, 60});
    report::drawMarkHalo(drawing, outlines[0], report::markStyleOf(found.gaps[0], reads));
    report::drawMark(drawing, outlines[0], report::markStyleOf(found.gaps[0], reads));
    const Image drawn = drawing.image();
    int off = 0;
    int ink = 0;
    for (int y = 0; y < drawn.height_px; ++y) {
      for (int x = 0; x < drawn.width_px; ++x) {
        const double distance = distanceTo(outlines[0], {x + 0.5, y + 0.5});
        if (pixel(drawn, x, y) != Colour{200, 60, 60} && distance > 5) ++off;
        if (dark(pixel(drawn, x, y))) {
          ++ink;
          if (distance > 3) ++off;
        }
      }
    }
    CHECK(off == 0);
    // Of 960 px all around a line of some 2 px: all of it, two thirds, two fifths.
    CHECK(ink > (reads == reading::Reads::shows ? 1700 : reads == reading::Reads::faint ? 900 : 500));
  }
}

TEST_CASE("outline styles are told apart without colour: solid, dashed, dotted") {
  const auto profile = [](report::MarkStyle style, bool along) {
    report::Drawing drawing(200, 40, {255, 255, 255});
    const std::array<glm::dvec2, 2> line{glm::dvec2(0, 20), glm::dvec2(200, 20)};
    report::drawMark(drawing, line, style);
    const Image drawn = drawing.image();
    int changes = 0;
    bool before = false;
    for (int k = 0; k < (along ? 200 : 40); ++k) {
      const bool now = along ? dark(pixel(drawn, k, 20)) : dark(pixel(drawn, 101, k));
      if (now != before) ++changes;
      before = now;
    }
    return changes;
  };
  CHECK(profile({reading::Reads::shows, false}, true) <= 2);
  CHECK(profile({reading::Reads::faint, false}, true) > 20);
  CHECK(profile({reading::Reads::lost, false}, true) > 60);
  CHECK(profile({reading::Reads::shows, false}, false) == 2);
}

TEST_CASE("the marked picture shows the gap and its number, slivers without a number") {
  const plan::LoadedPlan loaded = plan();
  const scene::Scene scene = bareScene();
  check::ShotCheck shot = shotOfPanel();
  const Image plain = report::markedPicture(shot, loaded, scene, testing::allThreads(), small_px);
  shot.found.gaps = {made_up::gap(1, {gaps::GapKind::board, 0, 0, false}, {254, 600}, 120, 60)};
  made_up::addHoles(shot.found);
  const Image marked = report::markedPicture(shot, loaded, scene, testing::allThreads(), small_px);
  REQUIRE(marked.width_px == plain.width_px);
  // The picture's middle line lies in the middle of the sheet; the gap's right edge 30 mm beside it.
  const double px_per_mm = (marked.width_px - 120) / 480.0;
  int dark_near_edge = 0;
  for (int x = 0; x < marked.width_px; ++x) {
    const double off_mm = std::abs(std::abs((x + 0.5 - marked.width_px / 2.0) / px_per_mm) - 30);
    if (dark(pixel(marked, x, marked.height_px / 2)) && off_mm * px_per_mm < 3) ++dark_near_edge;
  }
  CHECK(dark_near_edge >= 2);
}

TEST_CASE("the marked picture is the same for 1 and 3 threads") {
  check::ShotCheck shot = shotOfPanel();
  shot.found.gaps = {made_up::gap(1, {gaps::GapKind::board, 0, 0, false}, {254, 600}, 120, 60)};
  made_up::addHoles(shot.found);
  CHECK(report::markedPicture(shot, plan(), bareScene(), Pool(1), small_px).rgb ==
        report::markedPicture(shot, plan(), bareScene(), Pool(3), small_px).rgb);
}

TEST_CASE("bare places land where they are on the wall, the lowest row at the bottom") {
  gaps::BareMap bare;
  bare.columns = 4;
  bare.rows = 3;
  bare.shots.assign(12, 0);
  bare.shots[0] = 1;          // lower left
  bare.shots[2 * 4 + 3] = 3;  // upper right
  CHECK(report::shotsAt(bare, 40, 30, 0, 29) == 1);
  CHECK(report::shotsAt(bare, 40, 30, 9, 20) == 1);
  CHECK(report::shotsAt(bare, 40, 30, 10, 29) == 0);
  CHECK(report::shotsAt(bare, 40, 30, 39, 0) == 3);
  CHECK(report::shotsAt(bare, 40, 30, 0, 0) == 0);
  // A picture coarser than the map keeps the most.
  CHECK(report::shotsAt(bare, 2, 1, 1, 0) == 3);
  CHECK(report::shotsAt(bare, 2, 1, 0, 0) == 1);
}

TEST_CASE("one, two and three shots are hatched ever more densely") {
  std::array<int, 4> inked{};
  for (int shots = 1; shots <= 3; ++shots) {
    Image image{64, 64, std::vector<std::uint8_t>(64 * 64 * 3, 0)};
    for (int y = 0; y < 64; ++y) {
      for (int x = 0; x < 64; ++x) {
        paintHatch(image, x, y, shots);
        if (dark(pixel(image, x, y))) ++inked[static_cast<std::size_t>(shots)];
      }
    }
  }
  CHECK(inked[1] == 64 * 64 / 4);  // 2 of every 8 pixels
  CHECK(inked[2] > inked[1] * 3 / 2);
  CHECK(inked[3] > inked[2] * 3 / 2);
  CHECK(inked[3] < 64 * 64);
}

TEST_CASE("the wall map marks a bare place at its own spot and leaves the rest alone") {
  check::Check check = made_up::check({shotOfPanel()});
  const scene::PanelGrid panels = made_up::panels();
  check.bare = {};
  check.bare.columns = 1018;
  check.bare.rows = 814;
  check.bare.shots.assign(1018 * 814, 0);
  const Image without = report::wallMap(check, plan(), bareScene(), testing::allThreads(), 1.2e6);
  // 20 x 20 mm, its middle 250 mm from the left and 600 mm from below.
  for (int y = 590; y < 610; ++y) {
    for (int x = 240; x < 260; ++x) check.bare.shots[static_cast<std::size_t>(y * 1018 + x)] = 1;
  }
  const Image with = report::wallMap(check, plan(), bareScene(), testing::allThreads(), 1.2e6);
  // The key and the finding differ below and above; within the picture's rows only the place does. The
  // picture spans the sheet but for the margins of 60 px and the room for the tape.
  const double px_per_mm = (with.width_px - 120 - 64) / panels.width_mm();
  const double left = 60 + 64;
  int changed = 0;
  int changed_there = 0;
  for (int y = 300; y < 700; ++y) {
    for (int x = 0; x < with.width_px; ++x) {
      if (pixel(with, x, y) == pixel(without, x, y)) continue;
      ++changed;
      if (std::abs((x + 0.5 - left) / px_per_mm - 250) < 10 + 4 / px_per_mm) ++changed_there;
    }
  }
  CHECK(changed > 20 * 20 * px_per_mm * px_per_mm * 0.9);
  CHECK(changed == changed_there);
}

}  // namespace
}  // namespace petalproof
