#include "engine/plan/starter_plan.h"

#include "engine/plan/read_plan.h"
#include "tests/support/texts.h"

#include <doctest/doctest.h>

#include <cctype>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using petalproof::testing::problemsOf;

namespace {

struct Cells {
  int columns;
  int rows;
};

constexpr Units all_units[] = {Units::inch, Units::centimetre, Units::millimetre};

Result<LoadedPlan> loaded(const StarterOptions& options) {
  return readPlan(starterPlan(options), "new.toml", {});
}

// Whether a line of the text gives the key, spaces or none before its =.
bool hasKey(const std::string& text, const std::string& key) {
  for (std::size_t at = text.find(key); at != std::string::npos; at = text.find(key, at + 1)) {
    const char before = at == 0 ? '\n' : text[at - 1];
    const std::size_t after = text.find_first_not_of(' ', at + key.size());
    const bool stands_alone = before != '_' && std::isalnum(static_cast<unsigned char>(before)) == 0;
    if (stands_alone && after != std::string::npos && text[after] == '=') return true;
  }
  return false;
}

}  // namespace

TEST_CASE("a starter plan loads in all units and sizes") {
  for (const Units units : all_units)
    for (const Cells cells : {Cells{1, 1}, {4, 4}, {1, 7}, {30, 2}, {17, 23}, {200, 200}}) {
      StarterOptions options = starterOptions(units);
      options.columns = cells.columns;
      options.rows = cells.rows;
      options.title = "Our \"first\" wall \\ one";
      CAPTURE(cells.columns);
      const auto result = loaded(options);
      INFO(problemsOf(result));
      REQUIRE(result);
      CHECK(result.warnings.empty());
      const Plan& plan = result.value->plan;
      CHECK(plan.title == options.title);
      CHECK(plan.units == units);
      CHECK(plan.wall.columns == cells.columns);
      CHECK(plan.wall.rows == cells.rows);
      CHECK(plan.wall.panel == options.panel);
      CHECK(plan.blooms.size() == 5);
      CHECK(plan.layouts.size() == 2);
      CHECK(plan.shots.size() == 2);
    }
}

TEST_CASE("a starter plan loads with panels of any size") {
  for (const double scale : {0.002, 0.01, 0.1, 0.7, 3.0, 100.0}) {
    StarterOptions options = starterOptions(Units::millimetre);
    options.panel = {{600 * scale}, {370.7 * scale}};
    const auto result = loaded(options);
    CAPTURE(scale);
    INFO(problemsOf(result));
    REQUIRE(result);
    const Plan& plan = result.value->plan;
    // The largest bloom suits the panel: 0.7 of its shorter side, to a mark on the tape.
    CHECK(plan.blooms[0].diameter.value == doctest::Approx(0.7 * 370.7 * scale).epsilon(0.03));
    for (const Layout& layout : plan.layouts)
      for (const Placement& placement : layout.blooms) {
        CHECK(placement.at.from_left <= plan.wall.panel.width);
        CHECK(placement.at.from_top <= plan.wall.panel.height);
      }
  }
}

TEST_CASE("the starter plan's whole-wall shot sees the whole wall") {
  for (const Cells cells : {Cells{4, 4}, {8, 2}, {2, 9}}) {
    StarterOptions options = starterOptions(Units::centimetre);
    options.columns = cells.columns;
    options.rows = cells.rows;
    const auto result = loaded(options);
    REQUIRE(result);
    const Plan& plan = result.value->plan;
    const Shot& shot = plan.shots.back();
    REQUIRE(shot.name == "whole wall");
    // Similar triangles: sensor side / lens = seen side / distance.
    const double across = shot.camera_out.value * (shot.upright ? 24 : 36) / shot.lens.mm;
    const double down = shot.camera_out.value * (shot.upright ? 36 : 24) / shot.lens.mm;
    const Size outline = wallOutline(plan.wall);
    CHECK(across >= 1.03 * outline.width.value);
    CHECK(down >= 1.03 * outline.height.value);
    CHECK((across <= 1.1 * outline.width.value || down <= 1.1 * outline.height.value));
    CHECK(shot.camera_above_floor.value ==
          doctest::Approx(plan.wall.above_floor.value + outline.height.value / 2).epsilon(0.01));
  }
}

TEST_CASE("people stand only in front of a wall they fit in front of") {
  const auto large = loaded(starterOptions(Units::inch));
  REQUIRE(large);
  CHECK(large.value->plan.shots[0].people.size() == 2);
  StarterOptions options = starterOptions(Units::inch);
  options.columns = options.rows = 1;
  const auto small = loaded(options);
  REQUIRE(small);
  CHECK(small.value->plan.shots[0].people.empty());
}

TEST_CASE("every key of the format is in the starter plan") {
  const std::string text = starterPlan({});
  for (const std::string key : {"format",
                                "title",
                                "units",
                                "seed",
                                "variation",
                                "columns",
                                "rows",
                                "panel",
                                "seam",
                                "above_floor",
                                "board",
                                "thickness",
                                "ground",
                                "behind",
                                "room",
                                "ceiling",
                                "depth",
                                "mounting",
                                "grid",
                                "name",
                                "label",
                                "shape",
                                "mesh",
                                "diameter",
                                "width",
                                "colour",
                                "sheets",
                                "strips",
                                "plate",
                                "minutes",
                                "filler",
                                "stock",
                                "blooms",
                                "at",
                                "turn",
                                "raised",
                                "sensor",
                                "upright",
                                "megapixels",
                                "lens",
                                "lens_equivalent",
                                "aperture",
                                "camera",
                                "aim",
                                "focus",
                                "crop",
                                "looked_at",
                                "people",
                                "height"}) {
    CAPTURE(key);
    CHECK(hasKey(text, key));
  }
}
