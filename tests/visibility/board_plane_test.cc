#include "engine/visibility/visibility_buffer.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

namespace petalproof {
namespace {

// 3 x 2 panels of 100 x 80 mm; B1 (column 1, row 0) is an empty cell.
scene::PanelGrid threeByTwo(double seam_mm) {
  scene::PanelGrid panels;
  panels.columns = 3;
  panels.rows = 2;
  panels.panel_width_mm = 100;
  panels.panel_height_mm = 80;
  panels.seam_mm = seam_mm;
  panels.has_panel = Grid<std::uint8_t>(3, 2, 1);
  panels.has_panel.at(1, 0) = 0;
  return panels;
}

visibility::PixelId at(const scene::PanelGrid& panels, double x, double y) {
  return visibility::boardPlaneAt(panels, {{x, y}});
}
visibility::PixelId board(std::uint32_t index) { return {visibility::Sees::board, index}; }
constexpr visibility::PixelId seam{visibility::Sees::seam, 0};
constexpr visibility::PixelId behind{visibility::Sees::behind, 0};
constexpr visibility::PixelId off{visibility::Sees::off, 0};

}  // namespace

TEST_CASE("a pixel id keeps what it sees and the index") {
  const visibility::PixelId id{visibility::Sees::behind, 0x1fffffffU};
  CHECK(id.sees() == visibility::Sees::behind);
  CHECK(id.index() == 0x1fffffffU);
  CHECK(visibility::PixelId{} == visibility::PixelId{visibility::Sees::off, 0});
}

TEST_CASE("boardPlaneAt: panels, slits, crossings, empty cells") {
  const scene::PanelGrid panels = threeByTwo(4);  // outline 308 x 164; lower row y 0..80, upper 84..164
  CHECK(at(panels, 50, 120) == board(0));
  CHECK(at(panels, 150, 120) == behind);
  CHECK(at(panels, 258, 120) == board(2));
  CHECK(at(panels, 50, 40) == board(3));
  CHECK(at(panels, 154, 40) == board(4));
  CHECK(at(panels, 307, 1) == board(5));
  CHECK(at(panels, 102, 40) == seam);     // A2|B2
  CHECK(at(panels, 102, 120) == behind);  // A1|B1, B1 is empty
  CHECK(at(panels, 50, 82) == seam);      // A1/A2
  CHECK(at(panels, 150, 82) == behind);   // B1/B2
  CHECK(at(panels, 102, 82) == seam);     // A1+B2: three of four are there
  CHECK(at(panels, 206, 82) == seam);
  CHECK(at(panels, -0.001, 40) == off);
  CHECK(at(panels, 308.001, 40) == off);
  CHECK(at(panels, 50, 164.001) == off);
  CHECK(at(panels, 50, -0.001) == off);
}

TEST_CASE("boardPlaneAt: a crossing needs two of its four panels") {
  scene::PanelGrid panels = threeByTwo(4);
  panels.has_panel.at(0, 1) = 0;
  panels.has_panel.at(1, 1) = 0;
  CHECK(at(panels, 102, 82) == behind);
  panels.has_panel.at(1, 1) = 1;
  CHECK(at(panels, 102, 82) == seam);
}

TEST_CASE("boardPlaneAt: a panel owns its left and bottom edge, the outline all of its own") {
  const scene::PanelGrid panels = threeByTwo(4);
  CHECK(at(panels, 0, 0) == board(3));
  CHECK(at(panels, 308, 164) == board(2));
  CHECK(at(panels, 308, 0) == board(5));
  CHECK(at(panels, 0, 164) == board(0));
  CHECK(at(panels, 100, 40) == seam);
  CHECK(at(panels, 104, 40) == board(4));
  CHECK(at(panels, 50, 84) == board(0));
  CHECK(at(panels, 50, 80) == seam);
  CHECK(at(panels, 50, std::nextafter(84.0, 0.0)) == seam);
}

TEST_CASE("boardPlaneAt: touching panels leave no crack") {
  scene::PanelGrid panels = threeByTwo(0);
  panels.panel_width_mm = 508.0 / 3;  // sizes that aren't exact in binary
  panels.panel_height_mm = 406.4 / 7;
  panels.has_panel.at(1, 0) = 1;
  CHECK(at(panels, panels.left_mm(1), 10) == board(4));
  CHECK(at(panels, 10, panels.top_mm(1)) == board(0));
  for (int column = 1; column < 3; ++column) {
    const double x = panels.left_mm(column);
    for (const double place : {std::nextafter(x, 0.0), x, std::nextafter(x, 1e9)}) {
      CHECK(at(panels, place, 10).sees() == visibility::Sees::board);
    }
  }
  const double y = panels.top_mm(1);
  for (const double place : {std::nextafter(y, 0.0), y, std::nextafter(y, 1e9)}) {
    CHECK(at(panels, 10, place).sees() == visibility::Sees::board);
  }
}

TEST_CASE("boardPlaneAt: nothing that is no number is on the wall") {
  const scene::PanelGrid panels = threeByTwo(4);
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(at(panels, nan, 1) == off);
  CHECK(at(panels, 1, nan) == off);
  CHECK(at(panels, std::numeric_limits<double>::infinity(), 1) == off);
  CHECK(visibility::boardPlaneAt(scene::PanelGrid{}, {{0, 0}}) == off);
}

}  // namespace petalproof
