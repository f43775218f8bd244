// How many small fillers a closely built wall takes. A maker of such walls hides a dozen or a few dozen spots
// of a wall of some thirty panels (common practice, no source).

#include "tests/check/closely_built.h"

#include "engine/hands/fill_plan.h"

#include <doctest/doctest.h>

#include <cstdlib>

namespace petalproof::testing {

TEST_CASE("a closely built wall of thirty panels takes a few dozen fillers" *
          doctest::skip(std::getenv("PETALPROOF_LONG_TESTS") == nullptr)) {
  for (std::size_t k = 3; k < paperPalettes().size(); ++k) {
    const PaperPalette& palette = paperPalettes()[k];
    CAPTURE(palette.name);
    const Result<fill::FillResult> filled = hands::fillPlan(closelyBuiltPlan(palette, k + 1), {});
    REQUIRE(filled);
    for (const check::ShotCheck& shot : filled.value->before.shots)
      CHECK(shot.shares.board + shot.shares.seam < 0.05 * shot.shares.bloom);
    MESSAGE(palette.name, ": ", filled.value->count, " fillers, at least ", filled.value->at_least);
    CHECK(filled.value->count >= 5);
    CHECK(filled.value->count <= 60);
  }
}

}  // namespace petalproof::testing
