#pragma once
// Fillers that might be placed, and what each would hide of the pairs that are looked at.

#include "engine/candidates/internal/sites.h"
#include "engine/candidates/must_hide.h"
#include "engine/candidates/silhouette.h"

#include <compare>
#include <cstdint>
#include <set>
#include <span>
#include <vector>

namespace petalproof::candidates {

struct Candidate {
  std::size_t kind = 0;  // index into FillerMaker::kinds()
  Site site;
  int turn_deg = 0;
  std::vector<FaceHidden> takes;
};

// A pair that has to be hidden: a place of the grid, or one of the eye's others.
struct Pair {
  std::uint32_t eye = 0;
  bool on_grid = true;
  std::uint32_t index = 0;  // place, or number in Eye::others
  friend auto operator<=>(const Pair&, const Pair&) = default;
};

// What a filler hides from one eye, of the whole grid.
PlaceBits hiddenBy(const scene::FillerMaker& maker, const Candidate& candidate, const glm::dvec3& eye,
                   const PlaceGrid& grid);
Silhouette silhouetteOf(const scene::FillerMaker& maker, const Candidate& candidate, const Eye& eye);
Silhouette silhouetteOf(const scene::FillerMaker& maker, const Candidate& candidate, const glm::dvec3& eye);
// How far from its axis a filler at a place may hide another one of the board plane, as the eye sees it.
double reachOf(const scene::FillerKind& kind, const Eye& eye, glm::dvec2 at);
// Whether the eye could see a filler there hide the place: a quick look, never wrong when it says no.
bool mightHide(const scene::FillerMaker& maker, const Candidate& candidate, const Eye& eye, glm::dvec2 place);
// How far from a place, in mm on the board plane, a filler's axis may be that hides it from the eye; infinite
// where the eye is near.
double farthestHider(const scene::FillerMaker& maker, const Eye& eye, glm::dvec2 place);

// The pairs looked at, in the order in which they were added; finds those near a place quickly.
class PairList {
 public:
  explicit PairList(const PlaceGrid& grid) : grid_(grid) {}
  // Those not in it yet.
  void add(const MustHide& all, std::span<const Pair> pairs);
  std::size_t size() const { return pairs_.size(); }
  const Pair& operator[](std::size_t k) const { return pairs_[k]; }
  glm::dvec2 at(std::size_t k) const { return at_[k]; }
  // Pairs that the candidate hides, of number `from` and later, ascending.
  std::vector<std::uint32_t> hidden(const scene::FillerMaker& maker, const Candidate& candidate,
                                    const std::vector<Eye>& eyes, std::size_t from) const;

 private:
  struct Bin {
    std::vector<std::uint32_t> pairs;
  };
  template <class Visit>
  void forEachNear(std::size_t eye, const Silhouette& seen, std::size_t from, const Visit& visit) const;
  std::size_t binOf(std::uint32_t eye, glm::dvec2 at) const;
  bool anyNear(const scene::FillerMaker& maker, const Candidate& candidate, const Eye& eye,
               std::size_t number, std::size_t from) const;

  static constexpr double bin_mm = 32;
  const PlaceGrid& grid_;
  std::vector<Pair> pairs_;
  std::vector<glm::dvec2> at_;
  std::vector<std::set<std::uint32_t>> known_;  // by eye, then on the grid or off
  std::vector<std::vector<Bin>> bins_;          // by eye
  int bins_across_ = 0;
  int bins_down_ = 0;
  std::size_t bins_count_ = 0;
};

}  // namespace petalproof::candidates
