// A look that draws only the fillers leaves just what the ordinary check of the filled plan finds bare.

#include "engine/candidates/internal/sites.h"
#include "engine/fill/placed.h"
#include "engine/fill/proof.h"
#include "tests/fill/random_plans.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <cstdint>
#include <optional>
#include <random>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::check;
using namespace petalproof::candidates;
using namespace petalproof::fill;

namespace {

// A wall nobody planned, and its check without fillers.
class RandomWall {
 public:
  explicit RandomWall(std::uint64_t seed)
      : loaded_(testing::randomPlan(seed)),
        scene_(*buildScene(loaded_).value),
        maker_(*FillerMaker::forPlan(loaded_).value),
        grid_(placeGridOf(scene_.panels)),
        sites_(loaded_.plan, scene_, maker_, grid_),
        filling_{loaded_, options(), scene_, maker_, grid_, testing::allThreads()},
        random_(seed) {
    before_ = checked(loaded_, scene_);
    for (const ShotCheck& shot : before_.check.shots) filling_.cameras.push_back(shot.camera);
  }
  RandomWall(const RandomWall&) = delete;

  std::vector<Candidate> someThatFit(std::size_t most) {
    std::vector<Candidate> chosen;
    const glm::dvec2 size(scene_.panels.width_mm(), scene_.panels.height_mm());
    for (int k = 0; k < 200 && chosen.size() < most && !maker_.kinds().empty(); ++k) {
      Candidate one;
      one.kind = random_() % maker_.kinds().size();
      one.site = sites_.nearestSite(size * glm::dvec2(share(), share()));
      one.turn_deg = static_cast<int>(random_() % 360);
      if (sites_.bars(one.kind, one.site, one.turn_deg).by == Bar::none) chosen.push_back(one);
    }
    return chosen;
  }

  MustHide seenQuickly(const std::vector<Candidate>& chosen) const {
    return QuickLook(filling_, before_.check.shots, before_.bare).see(chosen);
  }
  MustHide seenByCheck(std::vector<Candidate> chosen) const {
    const LoadedPlan filled = filledPlan(loaded_, placed(filling_, chosen));
    return checked(filled, *buildScene(filled).value).must_hide;
  }

 private:
  static const FillOptions& options() {
    static const FillOptions all = [] {
      FillOptions made;
      made.hide = Hide::all;
      return made;
    }();
    return all;
  }
  CheckedPlan checked(const LoadedPlan& plan, const Scene& scene) const {
    ShotChecker checker(plan, scene, testing::allThreads(), false);
    Result<CheckedPlan> done = checkPlan(filling_, plan, scene, {}, checker);
    REQUIRE(done);
    return std::move(*done.value);
  }
  double share() { return std::uniform_real_distribution<double>(0, 1)(random_); }

  LoadedPlan loaded_;
  Scene scene_;
  FillerMaker maker_;
  PlaceGrid grid_;
  Sites sites_;
  Filling filling_;
  std::mt19937_64 random_;
  CheckedPlan before_;
};

}  // namespace

TEST_CASE("a quick look at fillers leaves bare what the check of the filled plan finds") {
  std::int64_t pairs = 0;
  std::size_t fillers = 0;
  for (std::uint64_t seed = 0; seed < 12; ++seed) {
    CAPTURE(seed);
    RandomWall wall(seed);
    const std::vector<Candidate> chosen = wall.someThatFit(6);
    const MustHide quick = wall.seenQuickly(chosen);
    const MustHide full = wall.seenByCheck(chosen);
    REQUIRE(quick.eyes.size() == full.eyes.size());
    for (std::size_t eye = 0; eye < full.eyes.size(); ++eye) {
      CHECK(quick.eyes[eye].places.bits == full.eyes[eye].places.bits);
      CHECK(quick.eyes[eye].others == full.eyes[eye].others);
    }
    pairs += full.pairs();
    fillers += chosen.size();
  }
  CHECK(fillers > 30);
  CHECK(pairs > 1000);
}
