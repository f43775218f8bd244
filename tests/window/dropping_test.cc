// Files dropped onto the real window.

#include "tests/window/dropping.h"
#include "engine/plan/write_plan.h"
#include "tests/app/test_plans.h"
#include "tests/window/desk.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::window_test;

TEST_CASE("two tables dropped onto the window become a wall") {
  Desk desk("My wall.toml");
  const auto grid = desk.home / "grid.csv";
  const auto blooms = desk.home / "blooms.csv";
  app::write(grid, "a,b\nb,a\n");
  app::write(
      blooms,
      "Bloom,Type,Size,Count,Color\nEmber,dahlia,14,4,rust\nSnow,peony,10,8,white\nMoss,fern,9,8,moss\n");
  desk.start();
  REQUIRE(dropFiles(desk.screen.display(), "Petalproof", {grid, blooms}, 600, 300));
  // "Make this wall", below the tables, once it is laid out.
  REQUIRE(desk.clickUntil(320, 378, [&] {
    return std::filesystem::exists(desk.state / "petalproof/journals/.unsaved.journal");
  }));
  REQUIRE(desk.saveWhereProposed());
  const Plan plan = desk.saved();
  CHECK(plan.wall.columns == 2);
  CHECK(plan.wall.rows == 2);
  CHECK(plan.wall.grid.at(0, 0).layout == "a");
  CHECK(plan.wall.grid.at(0, 1).layout == "b");
  REQUIRE(plan.blooms.size() == 3);
  CHECK(plan.blooms[1].name == "Snow");
  const auto& cells = plan.wall.grid.cells();
  std::size_t count = 0;
  for (const Cell& cell : cells) count += findLayout(plan, cell.layout)->blooms.size();
  CHECK(count == 20);
}

TEST_CASE("a plan dropped onto the window is opened") {
  Desk desk("Small.toml");
  app::write(desk.plan, writePlan(app::smallPlan()->plan));
  desk.start();
  REQUIRE(dropFiles(desk.screen.display(), "Petalproof", {desk.plan}, 600, 300));
  // Among those opened lately: it was read, and shown.
  CHECK(comesTrue(
      [&] {
        return app::textIn(desk.state / "petalproof/settings").find(desk.plan.string()) != std::string::npos;
      },
      30));
}

TEST_CASE("tables dropped onto an open plan become a new wall once that is agreed to") {
  Desk desk("My wall.toml");
  const auto open_plan = desk.home / "Small.toml";
  const std::string before = writePlan(app::smallPlan()->plan);
  app::write(open_plan, before);
  const auto grid = desk.home / "cells.csv";  // told from the other by what is in it
  const auto blooms = desk.home / "list.csv";
  app::write(grid, ",A,B\n1,a,b\n2,b,a\n");
  app::write(blooms, "Bloom,Type,Size,Count,Color\nEmber,dahlia,14,4,rust\nSnow,peony,10,8,white\n");
  desk.start({open_plan.string()});
  REQUIRE(dropFiles(desk.screen.display(), "Petalproof", {grid, blooms}, 600, 300));
  // "Start a new wall" in the question, then "Make this wall".
  REQUIRE(comesTrue([&] {
    desk.screen.click(552, 461);
    desk.screen.click(320, 378);
    return comesTrue(
        [&] { return std::filesystem::exists(desk.state / "petalproof/journals/.unsaved.journal"); }, 5);
  }));
  REQUIRE(desk.saveWhereProposed());
  CHECK(desk.saved().blooms.size() == 2);
  CHECK(app::textIn(open_plan) == before);
}
