#pragma once
// Candidates: fillers that might be placed, and the pairs of a place and an eye that they would hide. The
// pool, the searches and the lists of fillers work on them.

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
  std::vector<FaceHidden> takes;  // how much it hides of larger blooms' faces
};

// A place that has to be hidden from an eye: a place of the grid, or of Eye::others.
struct Pair {
  std::uint32_t eye = 0;
  bool on_grid = true;
  std::uint32_t index = 0;  // place, or number in Eye::others
  friend auto operator<=>(const Pair&, const Pair&) = default;
};

// The places of the grid that a filler hides from an eye.
PlaceBits hiddenBy(const scene::FillerMaker& maker, const Candidate& candidate, const glm::dvec3& eye,
                   const PlaceGrid& grid);
Silhouette silhouetteOf(const scene::FillerMaker& maker, const Candidate& candidate, const Eye& eye);
Silhouette silhouetteOf(const scene::FillerMaker& maker, const Candidate& candidate, const glm::dvec3& eye);
// How far from its axis a filler whose axis is `at` may hide places of the board plane from the eye.
double reachOf(const scene::FillerKind& kind, const Eye& eye, glm::dvec2 at);
// A quick test: false only if the candidate can't hide the place from the eye.
bool mightHide(const scene::FillerMaker& maker, const Candidate& candidate, const Eye& eye, glm::dvec2 place);
// How far from a place, in mm on the board plane, the axis of a filler that hides it from the eye may be;
// infinite where the eye is near.
double farthestHider(const scene::FillerMaker& maker, const Eye& eye, glm::dvec2 place);

// Reaches are cut to this, which is more than any wall: they may be infinite.
constexpr double farthest_reach_mm = 1e6;

// The pairs that a search looks at, numbered in the order in which they were added. Finds the pairs near a
// place quickly.
class PairList {
 public:
  explicit PairList(const PlaceGrid& grid) : grid_(grid) {}
  // Adds the pairs that aren't in the list yet.
  void add(const MustHide& all, std::span<const Pair> pairs);
  std::size_t size() const { return pairs_.size(); }
  const Pair& operator[](std::size_t k) const { return pairs_[k]; }
  glm::dvec2 at(std::size_t k) const { return at_[k]; }
  // The numbers, from `from` on, of the pairs that the candidate hides, ascending.
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
  std::vector<std::set<std::uint32_t>> known_;  // two for each eye: on the grid, off the grid
  std::vector<std::vector<Bin>> bins_;          // by eye
  int bins_across_ = 0;
  int bins_down_ = 0;
  std::size_t bins_count_ = 0;
};

}  // namespace petalproof::candidates
