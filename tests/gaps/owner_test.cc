#include "engine/gaps/internal/owner_zone.h"
#include "tests/gaps/synthetic.h"

#include <doctest/doctest.h>

#include <string>

using namespace petalproof;
using namespace petalproof::scene;
using namespace petalproof::visibility;
using namespace petalproof::gaps;

namespace {

std::string ownerAt(const PanelGrid& panels, double x, double y) { return nameOf(ownerOf(panels, {{x, y}})); }

// Panels of 400 x 300, 2 wide slits. Upright slits have their middle at 401, 803, ...; with three rows the
// wall is 904 high, level slits are at 603 and 301.
PanelGrid threeByThree() { return gridOf(3, 3, 400, 300, 2); }

}  // namespace

TEST_CASE("places are named by what they belong to") {
  CHECK(nameOf({GapKind::board, 1, 1, false}) == "B2");
  CHECK(nameOf({GapKind::seam, 1, 1, true}) == "B2|C2");
  CHECK(nameOf({GapKind::seam, 1, 1, false}) == "B2/B3");
  CHECK(nameOf({GapKind::crossing, 1, 1, false}) == "B2+C3");
  CHECK(nameOf({GapKind::crossing, 25, 99, false}) == "Z100+AA101");
}

TEST_CASE("crossing before seam before panel, each within 25 mm") {
  const PanelGrid panels = threeByThree();
  CHECK(ownerAt(panels, 200, 750) == "A1");
  CHECK(ownerAt(panels, 401, 750) == "A1|B1");
  CHECK(ownerAt(panels, 401 - 25, 750) == "A1|B1");
  CHECK(ownerAt(panels, 401 - 25.001, 750) == "A1");
  CHECK(ownerAt(panels, 401 + 25, 750) == "A1|B1");
  CHECK(ownerAt(panels, 401 + 25.001, 750) == "B1");
  CHECK(ownerAt(panels, 200, 603 + 25) == "A1/A2");
  CHECK(ownerAt(panels, 200, 603 + 25.001) == "A1");
  CHECK(ownerAt(panels, 200, 603 - 25.001) == "A2");
  CHECK(ownerAt(panels, 401, 603) == "A1+B2");
  CHECK(ownerAt(panels, 401 + 15, 603 + 20) == "A1+B2");
  CHECK(ownerAt(panels, 401 + 15, 603 + 20.001) == "A1|B1");
  CHECK(ownerAt(panels, 401 + 20.001, 603 + 15) == "B1/B2");
  CHECK(ownerAt(panels, 803, 301) == "B2+C3");
}

TEST_CASE("the wall's outer edges are no seams") {
  const PanelGrid panels = threeByThree();
  CHECK(ownerAt(panels, 0, 750) == "A1");
  CHECK(ownerAt(panels, 0, 904) == "A1");
  CHECK(ownerAt(panels, 1204, 0) == "C3");
  CHECK(ownerAt(panels, 401, 904) == "A1|B1");
  CHECK(ownerAt(panels, 401 + 20, 904) == "A1|B1");
}

TEST_CASE("where three panels meet there is no crossing but two seams") {
  PanelGrid panels = threeByThree();
  panels.has_panel.at(1, 1) = 0;  // B2 is missing: crossings around it are gone
  CHECK(ownerAt(panels, 400, 602) == "A1/A2");
  CHECK(ownerAt(panels, 400, 610) == "A1|B1");
  CHECK(ownerAt(panels, 390, 603) == "A1/A2");
  CHECK(ownerAt(panels, 396, 601) == "A1/A2");
  CHECK(ownerAt(panels, 400, 607) == "A1|B1");
  // Next to the hole only panels' edges are left: A2 has no seam with B2.
  CHECK(ownerAt(panels, 400, 450) == "A2");
  CHECK(ownerAt(panels, 600, 604) == "B1");
  // Beyond 25 mm of the ends too.
  CHECK(ownerAt(panels, 399, 603 - 26) == "A2");
  // As near to the ends of C2/C3 and B3|C3: the lower row.
  CHECK(ownerAt(panels, 803, 301) == "C2/C3");
}

TEST_CASE("two panels at opposite corners have neither crossing nor seam") {
  PanelGrid panels = gridOf(2, 2, 400, 300, 2);
  panels.has_panel.at(1, 0) = 0;
  panels.has_panel.at(0, 1) = 0;
  CHECK(ownerAt(panels, 401, 301) == "A1");  // as near to B2: the lower row
  CHECK(ownerAt(panels, 401.5, 300.5) == "B2");
  CHECK(ownerAt(panels, 399, 303) == "A1");
}

TEST_CASE("ties go to the lower row, then column, then the upright seam") {
  // Panels of 40 x 40 without slits: all within reach of each other.
  const PanelGrid panels = gridOf(3, 3, 40, 40, 0);
  CHECK(ownerAt(panels, 60, 80) == "A1+B2");  // half way between the crossings at x = 40 and 80
  CHECK(ownerAt(panels, 60, 60) == "B1/B2");  // 20 from four seams, of which one belongs to row 1
  CHECK(ownerAt(panels, 40, 60) == "A1+B2");  // half way between those at y = 80 and 40
  // One row: only upright seams. Half way between two of them the lower column.
  const PanelGrid row = gridOf(3, 1, 40, 40, 0);
  CHECK(ownerAt(row, 60, 20) == "A1|B1");
  CHECK(ownerAt(row, 60.001, 20) == "B1|C1");
  // One column: half way between two level seams the lower row.
  const PanelGrid column = gridOf(1, 3, 40, 40, 0);
  CHECK(ownerAt(column, 20, 60) == "A1/A2");
  CHECK(ownerAt(column, 20, 59.999) == "A2/A3");
  // Without B2, A1|B1 and A1/A2 end at the same place: as near to both, the upright seam.
  PanelGrid corner = gridOf(2, 2, 400, 300, 0);
  corner.has_panel.at(1, 1) = 0;
  CHECK(ownerAt(corner, 395, 305) == "A1|B1");
  CHECK(ownerAt(corner, 400, 300) == "A1|B1");
  CHECK(ownerAt(corner, 394, 305) == "A1/A2");
  CHECK(ownerAt(corner, 395, 306) == "A1|B1");
  CHECK(ownerAt(corner, 405, 295) == "A1|B1");
  // A crossing's row counts before its column.
  CHECK(nameOf(ownerOf(gridOf(3, 3, 30, 30, 0), {{45, 45}})) == "A1+B2");
}

TEST_CASE("wide slits belong to their seam throughout") {
  PanelGrid panels = gridOf(3, 2, 400, 300, 80);
  // The upright slit runs from 400 to 480, its middle at 440.
  CHECK(ownerAt(panels, 440, 600) == "A1|B1");
  CHECK(ownerAt(panels, 401, 600) == "A1|B1");
  CHECK(ownerAt(panels, 479, 600) == "A1|B1");
  CHECK(ownerAt(panels, 399, 600) == "A1");
  CHECK(ownerAt(panels, 200, 301) == "A1/A2");
  CHECK(ownerAt(panels, 200, 379) == "A1/A2");
  // In the square where slits cross: the crossing, else the nearest seam's end.
  CHECK(ownerAt(panels, 440, 340) == "A1+B2");
  CHECK(ownerAt(panels, 440, 375) == "A1|B1");
  CHECK(ownerAt(panels, 440, 305) == "A2|B2");
  CHECK(ownerAt(panels, 475, 340) == "B1/B2");
  CHECK(ownerAt(panels, 405, 340) == "A1/A2");
}

TEST_CASE("zones agree with the owners everywhere in them") {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    PanelGrid panels = gridOf(random.whole(1, 5), random.whole(1, 5), random.between(20, 500),
                              random.between(20, 500), random.between(-5, 70));
    panels.seam_mm = std::max(0.0, panels.seam_mm);
    for (auto& cell : panels.has_panel.cells()) cell = random.between(0, 1) < 0.8 ? 1 : 0;
    for (int k = 0; k < 60; ++k) {
      const BoardPoint place{{random.between(0, panels.width_mm()), random.between(0, panels.height_mm())}};
      const Sees sees = boardPlaneAt(panels, place).sees();
      if (sees != Sees::board && sees != Sees::seam) continue;
      const OwnerZone zone = ownerZoneAt(panels, place);
      REQUIRE(zone.owner == ownerOf(panels, place));
      REQUIRE(ownerFromLabel(labelOf(zone.owner, panels), panels) == zone.owner);
      if (!zone.everywhere_in) continue;
      for (int n = 0; n < 40; ++n) {
        const BoardRect& rect = *zone.everywhere_in;
        const bool on_edge = n % 2 == 0;
        const double x = on_edge ? (n % 4 == 0 ? rect.min_mm.x : rect.max_mm.x)
                                 : random.between(rect.min_mm.x, rect.max_mm.x);
        const BoardPoint inside{{x, random.between(rect.min_mm.y, rect.max_mm.y)}};
        const Sees there = boardPlaneAt(panels, inside).sees();
        if (there != Sees::board && there != Sees::seam) continue;
        REQUIRE(ownerOf(panels, inside) == zone.owner);
      }
    }
  }
}
