#include "engine/plan/plan.h"

#include "engine/plan/shape_names.h"

#include <doctest/doctest.h>

#include <string>

using namespace petalproof;
using namespace petalproof::plan;

TEST_CASE("panels of 20 x 16 in, five across and six down, make a wall of 100 x 96 in") {
  // Common practice, no source: a fact of the trade.
  Wall wall;
  wall.columns = 5;
  wall.rows = 6;
  wall.panel = {{20}, {16}};
  wall.seam = {0};
  CHECK(wallOutline(wall) == Size{{100}, {96}});
  CHECK(cellName(0, 0) == "A1");
  CHECK(cellName(wall.columns - 1, wall.rows - 1) == "E6");
}

TEST_CASE("open seams add to the outline, one fewer than panels") {
  Wall wall;
  wall.columns = 4;
  wall.rows = 3;
  wall.panel = {{24}, {20}};
  wall.seam = {0.25};
  CHECK(wallOutline(wall) == Size{{96.75}, {60.5}});
}

TEST_CASE("column letters go on as in a spreadsheet") {
  // Common practice, no source.
  CHECK(columnLetters(0) == "A");
  CHECK(columnLetters(25) == "Z");
  CHECK(columnLetters(26) == "AA");
  CHECK(columnLetters(51) == "AZ");
  CHECK(columnLetters(52) == "BA");
  CHECK(columnLetters(199) == "GR");
  CHECK(columnLetters(701) == "ZZ");
  CHECK(columnLetters(702) == "AAA");
  CHECK(cellName(27, 199) == "AB200");
}

TEST_CASE("shapes have names") {
  CHECK(shapeNames().size() == 12);
  for (const std::string_view name : shapeNames()) {
    const auto shape = shapeFromName(name);
    REQUIRE(shape);
    CHECK(nameOf(*shape) == name);
  }
  CHECK(shapeFromName("cone dahlia") == Shape::coneDahlia);
  CHECK(shapeFromName("leaf spray") == Shape::leafSpray);
  CHECK(shapeFromName("fern") == Shape::fern);
  CHECK_FALSE(shapeFromName("Dahlia"));
  CHECK(takesWidth(Shape::leaf));
  CHECK_FALSE(takesWidth(Shape::pompom));
}

TEST_CASE("blooms and layouts are found by name") {
  Plan plan;
  plan.blooms.resize(2);
  plan.blooms[1].name = "rose";
  plan.layouts = {{"sun", {}}};
  CHECK(findBloom(plan, "rose") == &plan.blooms[1]);
  CHECK(findBloom(plan, "Rose") == nullptr);
  CHECK(findLayout(plan, "sun") == &plan.layouts[0]);
  CHECK(findLayout(plan, "moon") == nullptr);
}
