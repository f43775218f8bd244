// Which colour a filler takes.

#include "engine/base/colour_difference.h"
#include "engine/fill/internal/filler_colours.h"
#include "engine/fill/internal/filler_surroundings.h"

#include "tests/cover/cover_instances.h"
#include "tests/fill/bare_wall.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::candidates;
using namespace petalproof::fill;
using petalproof::testing::discsOnCoveredBoard;

namespace {

const Colour red{0xb5, 0x38, 0x2a};
const Colour ivory{0xf0, 0xe6, 0xd2};
const Colour pink{0xd8, 0x90, 0x80};
const Colour blue{0x30, 0x50, 0x90};

double apart(Colour a, Colour b) { return difference2000(labOf(a), labOf(b)); }

struct Hung {
  LoadedPlan loaded;
  Scene scene;
  FillerMaker maker;
  std::vector<Camera> cameras;

  explicit Hung(LoadedPlan plan)
      : loaded(std::move(plan)),
        scene(*buildScene(loaded).value),
        maker(*FillerMaker::forPlan(loaded).value) {
    for (const Shot& shot : loaded.plan.shots)
      cameras.push_back(*makeCamera(shot, wallFrameOf(loaded.plan)).value);
  }
  // A filler of the only kind.
  Candidate at(double x_mm, double y_mm) const {
    const double height = scene.panels.height_mm();
    return {0, {{{x_mm}, {height - y_mm}}, {x_mm, height - y_mm}, {x_mm, y_mm}}, 0, {}};
  }
  std::vector<Colour> coloursOf(const std::vector<Candidate>& fillers) const {
    return fillerColours(fillers, {loaded.plan, scene, maker, cameras, testing::allThreads()});
  }
};

// Clumps of three alike within 300 mm, told slowly.
int clumpsOf(const std::vector<Candidate>& fillers, const std::vector<Colour>& colours) {
  const auto near = [&](std::size_t a, std::size_t b) {
    return glm::distance(fillers[a].site.board_mm, fillers[b].site.board_mm) <= 300 &&
           colours[a] == colours[b];
  };
  int clumps = 0;
  for (std::size_t a = 0; a < fillers.size(); ++a)
    for (std::size_t b = a + 1; b < fillers.size(); ++b)
      for (std::size_t c = b + 1; c < fillers.size(); ++c)
        clumps += near(a, b) && near(a, c) && near(b, c) ? 1 : 0;
  return clumps;
}

// Whether some choice of two colours has no clump, by trying all.
bool canBeFree(const std::vector<Candidate>& fillers) {
  for (std::uint32_t choice = 0; choice < 1U << fillers.size(); ++choice) {
    std::vector<Colour> colours;
    for (std::size_t k = 0; k < fillers.size(); ++k) colours.push_back((choice >> k & 1U) != 0 ? red : blue);
    if (clumpsOf(fillers, colours) == 0) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("a colour stands out by its distance from what is beside it") {
  CHECK(standsOut(labOf(red), {}) == 0);
  CHECK(standsOut(labOf(red), {{red, 0.2}}) == 0);
  CHECK(standsOut(labOf(blue), {{red, 0.2}}) == doctest::Approx(apart(blue, red)));
  // Root mean square: a quarter of the surroundings at distance d count for d / 2.
  CHECK(standsOut(labOf(red), {{red, 0.3}, {ivory, 0.1}}) == doctest::Approx(apart(red, ivory) / 2));
  // Between two colours what lies between them stands out least.
  const std::vector<ColourBeside> both = {{red, 0.1}, {ivory, 0.1}};
  CHECK(standsOut(labOf(pink), both) < standsOut(labOf(red), both));
  CHECK(standsOut(labOf(pink), both) < standsOut(labOf(ivory), both));
}

TEST_CASE("what is seen beside a filler, and on how much of the picture") {
  // A filler of 100 mm in the middle of 1000 x 800 mm of covered board; a disc of 1200 mm whose rim runs
  // through the filler's middle has its left half.
  const std::string large = "{ bloom = \"great\", at = [-100, 400] }";
  Hung hung(discsOnCoveredBoard({1000, 800, 100, {red, blue}, large, ivory}));
  const std::size_t first = hung.scene.blooms.size();
  BloomInstance filler = hung.scene.blooms.front();
  const FillerMaker::Hung placed = hung.maker.hang(0, {500, 400}, 0);
  filler.mesh = static_cast<std::uint32_t>(hung.scene.meshes.size());
  filler.wallFromMesh = placed.wallFromMesh;
  filler.panel_column = -1;
  hung.scene.meshes.push_back(*placed.mesh);
  hung.scene.blooms.push_back(filler);
  const auto beside = coloursBeside(hung.scene, first, hung.cameras, testing::oneThread());
  REQUIRE(beside.size() == 1);
  REQUIRE(beside[0].size() == 2);  // covered board first
  CHECK(beside[0][0].colour == hung.loaded.plan.wall.board.colour);
  CHECK(beside[0][1].colour == ivory);
  // On the board plane the picture is 36 / 50 of its distance (2560 mm) wide; the filler is 0.1 mm nearer.
  const double picture = 2560 * 36 / 50.0 * 2560 * 24 / 50.0;
  const double disc = pi / 4 * 100 * 100;
  CHECK((beside[0][0].share + beside[0][1].share) * picture == doctest::Approx(disc).epsilon(0.05));
  CHECK(beside[0][1].share / (beside[0][0].share + beside[0][1].share) == doctest::Approx(0.5).epsilon(0.1));
}

TEST_CASE("a filler takes the colour that goes with what is seen beside it") {
  // Left of the middle a disc of ivory, right of it one of red, 40 mm apart, on white board. On
  // each lies a filler.
  const std::string two =
      "{ bloom = \"great\", at = [250, 400], colour = \"#f0e6d2\" }, "
      "{ bloom = \"great\", at = [1490, 400], colour = \"#b5382a\" }";
  const Colour cream{0xf2, 0xdc, 0xb0};
  const Colour rust{0xc8, 0x58, 0x48};
  REQUIRE(apart(cream, ivory) > 5);  // no twins
  REQUIRE(apart(rust, red) > 5);
  const Hung hung(discsOnCoveredBoard({1740, 800, 100, {rust, cream, blue}, two, ivory}));
  const std::vector<Candidate> fillers = {hung.at(760, 400), hung.at(980, 400)};
  CHECK(hung.coloursOf(fillers) == std::vector<Colour>{cream, rust});
}

TEST_CASE("a filler isn't the twin of the large bloom beside it if another colour will do") {
  const std::string large = "{ bloom = \"great\", at = [0, 400], colour = \"#b5382a\" }";
  const Hung choice(discsOnCoveredBoard({1740, 800, 100, {red, ivory}, large, red}));
  // On the rim of the disc, whose radius is 600 mm.
  CHECK(choice.coloursOf({choice.at(610, 400)}) == std::vector<Colour>{ivory});
  const Hung none(discsOnCoveredBoard({1740, 800, 100, {red}, large, red}));
  CHECK(none.coloursOf({none.at(610, 400)}) == std::vector<Colour>{red});
}

TEST_CASE("no clump of three alike where there is a way without") {
  Hung hung(discsOnCoveredBoard({1740, 800, 100, {red, blue}, "", ivory}));
  SUBCASE("all that the pictures show says red") {
    const std::vector<Candidate> fillers = {hung.at(500, 400), hung.at(620, 400), hung.at(740, 400),
                                            hung.at(860, 400)};
    const std::vector<Colour> colours = hung.coloursOf(fillers);
    CHECK(clumpsOf(fillers, colours) == 0);
    // The first and the last are 360 mm apart: one blue one in the middle is enough.
    const Colour near = apart(red, Colour{255, 255, 255}) < apart(blue, Colour{255, 255, 255}) ? red : blue;
    CHECK(std::count(colours.begin(), colours.end(), near) == 3);
  }
  SUBCASE("random places, against trying every choice") {
    hung.cameras.clear();
    int free = 0;
    constexpr int cases = 200;
    for (std::uint64_t seed = 1; seed <= cases; ++seed) {
      CAPTURE(seed);
      CoverRandom random(seed);
      std::vector<Candidate> fillers;
      const std::uint32_t count = 4 + random.below(8);
      for (std::uint32_t k = 0; k < count; ++k) {
        const double right = 60.0 + random.below(800);
        fillers.push_back(hung.at(right, 60.0 + random.below(500)));
      }
      if (!canBeFree(fillers)) continue;
      ++free;
      CHECK(clumpsOf(fillers, hung.coloursOf(fillers)) == 0);
    }
    CHECK(free > cases / 4);
    CHECK(free < cases);
  }
}
