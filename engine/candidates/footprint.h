#pragma once
// Bounds the places that fillers of a kind can hide while their axes lie in a small square and their turns in
// a small angle: outlines at several heights, grown by the size of square and angle. The lower bound of the
// number of fillers rests on it.

#include "engine/candidates/internal/place_grid.h"
#include "engine/scene/filler_maker.h"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <array>
#include <cstddef>
#include <vector>

namespace petalproof::candidates {

// A place of the board plane and the eye that must not see it. A filler that hides any point within
// `around_mm` of the place counts as hiding it.
struct SeenPlace {
  glm::dvec2 at{0};
  glm::dvec3 eye{0};
  double around_mm = 0;
};

// Axes within `half_mm` of the middle both ways, turns within halfTurnOf(level) of `turn`, in radians.
struct FillerBin {
  std::size_t kind = 0;
  glm::dvec2 middle{0};
  double half_mm = 0;
  double turn = 0;
  int level = 0;
};
constexpr int turn_levels = 6;
constexpr int bins_all_round = 8;  // of turns, at level 0; each level halves them
double halfTurnOf(int level);

// Holds for all copies of a kind. A filler hides a place only if the ray from the eye to the place meets the
// filler at some height; each layer answers for the heights between its two.
class FillerFootprint {
 public:
  // `sway`: in radians, how far copies are turned from what a plan says.
  FillerFootprint(const scene::FillerKind& kind, double sway);

  // Whether the outline is nearly the same for all turns.
  bool isRound() const { return is_round_; }
  double radius_mm() const { return radius_; }
  // Never false where a filler of the bin could hide the place, or a point within `around_mm` of it.
  bool mayHide(const FillerBin& bin, const SeenPlace& place) const;

 private:
  static constexpr int directions = 24;
  using Reach = std::array<double, directions>;
  struct Layer {
    double low_mm = 0;
    double high_mm = 0;
    double radius = 0;
    std::array<Reach, turn_levels> reach{};  // in each direction of the filler's frame, by level of turns
  };
  bool isOutside(const Reach& reach, glm::dvec2 from, double turn, double grown_mm) const;
  void addLayer(const scene::FillerKind& kind, double low_mm, double high_mm, double sway);

  std::vector<Layer> layers_;
  std::array<glm::dvec2, directions> towards_;
  double radius_ = 0;
  bool is_round_ = true;
};

}  // namespace petalproof::candidates
