#include "engine/scene/scene.h"

#include <doctest/doctest.h>

using namespace petalproof::scene;

TEST_CASE(
    "a place is in the column and row of its panel, or of the slit right of it or below, or the nearest") {
  PanelGrid panels;
  panels.columns = 3;
  panels.rows = 2;
  panels.panel_width_mm = 100;
  panels.panel_height_mm = 50;
  panels.seam_mm = 10;  // 320 x 110 mm
  CHECK(panels.columnAt(-5) == 0);
  CHECK(panels.columnAt(0) == 0);
  CHECK(panels.columnAt(105) == 0);  // in the slit
  CHECK(panels.columnAt(110) == 1);
  CHECK(panels.columnAt(319) == 2);
  CHECK(panels.columnAt(1e12) == 2);
  CHECK(panels.rowAt(1000) == 0);
  CHECK(panels.rowAt(109) == 0);
  CHECK(panels.rowAt(55) == 0);  // in the slit
  CHECK(panels.rowAt(49) == 1);
  CHECK(panels.rowAt(-1e12) == 1);
  CHECK(panels.rowFromTop(61) == 1);
  CHECK(panels.slitRightOf_mm(0) == 105);
  CHECK(panels.slitBelow_mm(0) == 55);
}
