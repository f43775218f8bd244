#include "engine/fill/internal/left_bare.h"

#include "engine/candidates/silhouette.h"
#include "tests/fill/bare_wall.h"
#include "tests/support/pool.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdint>
#include <random>
#include <set>
#include <utility>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::candidates;
using namespace petalproof::fill;

namespace {

using Numbers = std::vector<std::uint32_t>;
constexpr int block = 4;  // places each way

// A bare panel, two eyes that must not see parts of it, and fillers to choose from.
class Choice {
 public:
  explicit Choice(std::uint64_t seed)
      : loaded_(testing::barePanel(700, 500, 130)),
        scene_(*buildScene(loaded_).value),
        maker_(*FillerMaker::forPlan(loaded_).value),
        grid_(placeGridOf(scene_.panels)),
        sites_(loaded_.plan, scene_, maker_, grid_),
        task_{loaded_.plan, scene_, maker_, sites_, testing::allThreads(), 1, {}, {}},
        pool_(task_),
        left_(grid_, pool_, block, testing::allThreads()),
        random_(seed) {
    for (const glm::dvec3& at : {glm::dvec3(350, 250, 1200), glm::dvec3(1300, 500, 800)}) addEye(at);
    std::vector<Proposal> proposals;
    for (int k = 0; k < 60; ++k) proposals.push_back({0, {700 * share(), 500 * share()}, 0, 0});
    pool_.readyFor(all_.eyes.size());
    pool_.add(proposals);
  }
  Choice(const Choice&) = delete;

  std::vector<Pair> find(const Numbers& chosen) { return left_.find(all_, chosen); }
  std::vector<Pair> findAfter(const Numbers& changed, const std::vector<Pair>& before,
                              const Numbers& chosen) {
    return left_.findAfter(changed, before, all_, chosen);
  }
  Numbers withoutIdle(Numbers chosen) {
    left_.removeIdle(all_, chosen);
    return chosen;
  }
  Numbers some(double of_all) {
    Numbers numbers;
    for (std::uint32_t k = 0; k < pool_.size(); ++k)
      if (share() < of_all) numbers.push_back(k);
    return numbers;
  }

  std::size_t placesBare(const Numbers& chosen) { return bareOf(chosen, 1).size(); }
  // Blocks of so many places each way with a bare one, and others that are bare, place by place.
  std::set<std::vector<std::int64_t>> bareOf(const Numbers& chosen, int side = block) {
    std::set<std::vector<std::int64_t>> bare;
    for (std::size_t eye = 0; eye < all_.eyes.size(); ++eye) {
      PlaceBits left = all_.eyes[eye].places;
      std::vector<Silhouette> seen;
      for (const std::uint32_t k : chosen) {
        seen.push_back(silhouetteOf(maker_, pool_[k], all_.eyes[eye]));
        left.clear(placesHidden(seen.back(), grid_));
      }
      const auto number = static_cast<std::int64_t>(eye);
      left.forEach([&](int column, int row) { bare.insert({number, 1, column / side, row / side}); });
      for (std::size_t k = 0; k < all_.eyes[eye].others.size(); ++k)
        if (std::none_of(seen.begin(), seen.end(),
                         [&](const Silhouette& one) { return hides(one, all_.eyes[eye].others[k]); }))
          bare.insert({number, 0, static_cast<std::int64_t>(k)});
    }
    return bare;
  }
  std::set<std::vector<std::int64_t>> blocksOf(const std::vector<Pair>& pairs) const {
    std::set<std::vector<std::int64_t>> blocks;
    for (const Pair& pair : pairs)
      if (pair.on_grid)
        blocks.insert({pair.eye, 1, grid_.columnOf(pair.index) / block, grid_.rowOf(pair.index) / block});
      else
        blocks.insert({pair.eye, 0, pair.index});
    return blocks;
  }

 private:
  double share() { return std::uniform_real_distribution<double>(0, 1)(random_); }
  void addEye(const glm::dvec3& at) {
    Eye eye{at, nullptr, PlaceBits(0, 0, grid_.x.count(), grid_.y.count()), {}};
    for (int patch = 0; patch < 12; ++patch) {
      const int column = static_cast<int>(share() * (grid_.x.count() - 40));
      const int row = static_cast<int>(share() * (grid_.y.count() - 40));
      for (int r = row; r < row + 40; ++r) eye.places.setRun(r, column, column + 1 + patch * 3);
    }
    for (int k = 0; k < 80; ++k) eye.others.emplace_back(700 * share(), 500 * share());
    all_.eyes.push_back(std::move(eye));
  }

  LoadedPlan loaded_;
  Scene scene_;
  FillerMaker maker_;
  PlaceGrid grid_;
  Sites sites_;
  SearchTask task_;
  CandidatePool pool_;
  LeftBare left_;
  std::mt19937_64 random_;
  MustHide all_;
};

}  // namespace

TEST_CASE("what fillers leave bare, and what a change of some of them leaves") {
  for (const std::uint64_t seed : {1U, 2U, 3U}) {
    Choice choice(seed);
    Numbers chosen = choice.some(0.3);
    std::vector<Pair> left = choice.find(chosen);
    CHECK(left.size() > 20);
    CHECK(choice.blocksOf(left) == choice.bareOf(chosen));
    for (int change = 0; change < 8; ++change) {
      const Numbers changed = choice.some(0.05);
      for (const std::uint32_t k : changed) {
        const auto at = std::find(chosen.begin(), chosen.end(), k);
        if (at == chosen.end())
          chosen.push_back(k);
        else
          chosen.erase(at);
      }
      left = choice.findAfter(changed, left, chosen);
      CHECK(left == choice.find(chosen));
      CHECK(choice.blocksOf(left) == choice.bareOf(chosen));
    }
  }
}

TEST_CASE("fillers that hide nothing of their own are taken out, and no others") {
  Choice choice(4);
  const Numbers many = choice.some(0.9);
  const Numbers few = choice.withoutIdle(many);
  CHECK(few.size() < many.size());
  const std::size_t bare = choice.placesBare(few);
  CHECK(bare == choice.placesBare(many));
  for (const std::uint32_t k : few) {
    Numbers fewer = few;
    fewer.erase(std::find(fewer.begin(), fewer.end(), k));
    CHECK(choice.placesBare(fewer) > bare);
  }
}
