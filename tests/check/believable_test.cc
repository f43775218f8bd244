// Whether people would agree with readings, as far as that can be asked without people: pieces of paper held
// for holes, holes planted where a bloom was, boards in other colours, seams.

#include "engine/base/hash.h"
#include "engine/check/check.h"
#include "tests/check/paper_walls.h"
#include "tests/support/sanitized.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::testing {
namespace {

constexpr double mm_per_inch = 25.4;
constexpr Colour white_board{247, 246, 242};

std::size_t palettesTried() { return sanitized ? 1 : paperPalettes().size(); }

// Blooms of a covered wall that lie well apart and where both shots see them.
std::vector<std::size_t> farApart(std::uint64_t seed, glm::dvec2 low, glm::dvec2 high, std::size_t count) {
  const std::vector<glm::dvec2> places = coveredPlaces();
  std::vector<std::size_t> chosen;
  for (std::uint64_t k = 0; k < 400 && chosen.size() < count; ++k) {
    const std::size_t one = hashOf({seed, k, 7}) % places.size();
    const glm::dvec2 at = places[one];
    if (at.x < low.x || at.y < low.y || at.x > high.x || at.y > high.y) continue;
    const bool apart = std::all_of(chosen.begin(), chosen.end(), [&](std::size_t other) {
      return glm::distance(places[other], at) > 11 * mm_per_inch;
    });
    if (apart) chosen.push_back(one);
  }
  return chosen;
}

check::ShotCheck checkedShot(const PaperWall& wall, const plan::Shot& shot) {
  check::ShotChecker checker(wall.loaded, wall.scene);
  Result<check::ShotCheck> done = checker.check(shot, {}, wall.scene.colours);
  REQUIRE(done);
  return std::move(*done.value);
}

// Planted holes of 3 to 6 in: how many there are, and how many show.
struct Planted {
  int holes = 0;
  int show = 0;
};

void addPlanted(const PaperWall& wall, const plan::Shot& shot, const std::vector<std::size_t>& missing,
                Planted& planted) {
  const check::ShotCheck done = checkedShot(wall, shot);
  const std::vector<glm::dvec2> places = coveredPlaces();
  for (const std::size_t k : missing) {
    const int hole = holeAt(done, places[k], 2.5 * mm_per_inch);
    if (hole < 0) continue;
    const auto index = static_cast<std::size_t>(hole);
    const double size = std::sqrt(done.found.holes[index].whole.area_mm2 * 4 / 3.14159265);
    if (size < 2 * mm_per_inch || size > 6 * mm_per_inch) continue;
    ++planted.holes;
    planted.show += done.readings[index].reads == reading::Reads::shows ? 1 : 0;
    INFO(shot.name, " at ", places[k].x, " ", places[k].y, ": odder than ", done.readings[index].odder_than,
         ", ", done.readings[index].width_arcmin, "', difference ", done.readings[index].difference);
  }
}

}  // namespace

TEST_CASE("pieces of paper, held for holes, seldom show") {
  for (std::size_t k = 0; k < palettesTried(); ++k) {
    const PaperPalette& palette = paperPalettes()[k];
    CAPTURE(palette.name);
    const PaperWall wall = arrangedWall(palette, k + 1);
    for (const plan::Shot& shot : coupleAndWholeWall(wall)) {
      CAPTURE(shot.name);
      const check::ShotCheck done = checkedShot(wall, shot);
      REQUIRE(done.pieces != nullptr);
      REQUIRE(done.pieces->pieces() >= check::enough_pieces);
      std::size_t odd = 0;
      for (std::size_t piece = 0; piece < done.pieces->pieces(); ++piece)
        odd += done.pieces->odderThanOthers(piece) > 0.9 ? 1 : 0;
      CHECK(static_cast<double>(odd) <= 0.12 * static_cast<double>(done.pieces->pieces()));
      CHECK(static_cast<double>(odd) >= 0.05 * static_cast<double>(done.pieces->pieces()));
    }
  }
}

TEST_CASE("a hole where a bloom was shows") {
  Planted coloured;
  Planted with_white;
  for (std::size_t k = 0; k < palettesTried(); ++k) {
    const PaperPalette& palette = paperPalettes()[k];
    Planted& sum = palette.has_white ? with_white : coloured;
    const PaperWall whole = coveredWall(palette, k + 1);
    for (const plan::Shot& shot : coupleAndWholeWall(whole)) {
      const bool couple = shot.name == coupleAndWholeWall(whole).front().name;
      const glm::dvec2 middle(36 * mm_per_inch, 32 * mm_per_inch);
      const glm::dvec2 reach = mm_per_inch * (couple ? glm::dvec2(14, 18) : glm::dvec2(30, 24));
      const std::vector<std::size_t> missing = farApart(k + 1, middle - reach, middle + reach, 6);
      addPlanted(coveredWall(palette, k + 1, missing), shot, missing, sum);
    }
  }
  MESSAGE(coloured.show, " of ", coloured.holes, " planted holes show, with white blooms ", with_white.show,
          " of ", with_white.holes);
  if (!sanitized) CHECK(coloured.holes + with_white.holes >= 60);
  CHECK(coloured.show >= 0.95 * coloured.holes);
  CHECK(with_white.show >= 0.7 * with_white.holes);
}

TEST_CASE("a flat disc of the wall's own paper in its place mostly doesn't") {
  int discs = 0;
  int show = 0;
  for (std::size_t k = 0; k < palettesTried(); ++k) {
    const PaperPalette& palette = paperPalettes()[k];
    const std::vector<std::size_t> missing =
        farApart(k + 1, mm_per_inch * glm::dvec2(6, 8), mm_per_inch * glm::dvec2(66, 56), 8);
    const PaperWall wall = coveredWall(palette, k + 1, missing);
    const std::vector<glm::dvec2> places = coveredPlaces();
    // A flat disc of paper on the board is the same sheet of one colour as a board of that colour.
    const Colour colour = palette.blooms[k % 4];
    scene::SceneColours colours = wall.scene.colours;
    colours.board = colours.board_edge = colour;
    check::ShotChecker checker(wall.loaded, wall.scene);
    const Result<check::ShotCheck> done = checker.check(coupleAndWholeWall(wall).back(), {}, colours);
    REQUIRE(done);
    for (const std::size_t one : missing) {
      const int hole = holeAt(*done.value, places[one], 2.5 * mm_per_inch);
      if (hole < 0) continue;
      ++discs;
      show += done.value->readings[static_cast<std::size_t>(hole)].reads == reading::Reads::shows ? 1 : 0;
    }
  }
  MESSAGE(show, " of ", discs, " flat discs show");
  CHECK(show <= 0.2 * discs);
}

}  // namespace petalproof::testing
