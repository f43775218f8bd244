#pragma once
// The rules for where a filler may sit: room for its base plate, and the blooms that its petals must not
// hide. CandidatePool, the scan and the words for gaps that are left ask it.

#include "engine/candidates/internal/head_on.h"
#include "engine/candidates/internal/place_grid.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/filler_maker.h"
#include "engine/scene/scene.h"

#include <glm/vec2.hpp>

#include <cstdint>
#include <stop_token>
#include <string>
#include <vector>

namespace petalproof::candidates {

constexpr double clearance_mm = 0.01;  // between plates; lengths that differ by less are rounding

// Which rule keeps a filler from a site.
enum class Bar { none, edge, emptyCell, slit, plate, innerHalf, face, hang };
// How far a filler may hang past the wall's outer edge, as a share of its diameter.
constexpr double hang_at_side = 1.0 / 3;  // at the top too
constexpr double hang_at_bottom = 1.0 / 2;
struct Barred {
  Bar by = Bar::none;
  std::int32_t bloom = -1;  // whose plate, inner half or face it is, as an index into Scene::blooms
};

// A filler's place, in the plan's unit and in mm.
struct Site {
  plan::TapePoint at;            // from the wall's left and top edge
  glm::dvec2 from_corner_mm{0};  // the same in mm
  glm::dvec2 board_mm{0};        // on the board plane
};

// Whether a disc may reach into the inner half; true a little too often.
bool reachesInto(const InnerHalf& inner, glm::dvec2 centre, double radius);

class Sites {
 public:
  // Refers to its arguments but the last, which must outlive it.
  Sites(const plan::Plan& plan, const scene::Scene& scene, const scene::FillerMaker& maker,
        const PlaceGrid& grid, const std::stop_token& stop = {});

  // The nearest place that a tape can measure: whole eighths of an inch, or mm, from the left and the top
  // edge of its panel (on a slit: of the left or upper panel).
  Site nearestSite(glm::dvec2 board_mm) const;
  double tapeStep_mm() const { return tape_step_mm_; }

  // The rule that bars a filler there by its plate alone.
  Barred barsPlate(const scene::FillerKind& kind, glm::dvec2 board_mm) const;
  // True only if the plate fits nowhere within that distance of the place.
  bool plateFitsNowhere(const scene::FillerKind& kind, glm::dvec2 board_mm, double within_mm) const;
  // The rule that bars a filler there, of all rules that concern no new filler. `takes`, if given, gets how
  // many places it hides of larger blooms' faces.
  Barred bars(std::size_t kind, const Site& site, double turn_deg,
              std::vector<FaceHidden>* takes = nullptr) const;
  // How many places of a bloom's face all new fillers together may hide: the limit, less what old fillers
  // hide.
  double faceLimit(std::int32_t bloom) const;

  InnerHalf innerHalfOf(const scene::FillerKind& kind, glm::dvec2 board_mm, double turn_deg) const;
  const PlaceGrid& grid() const { return grid_; }
  // A quick guess whether a filler that reaches a place at a height would be seen in a larger bloom's inner
  // half.
  bool inLargerInnerHalf(glm::dvec2 place, double height_mm, double diameter_mm) const;

 private:
  struct Obstacle {
    glm::dvec2 at{0};
    double plate_radius = 0;
    double diameter = 0;
    std::int32_t bloom = 0;
  };
  void addObstacles();
  void takeOldFillers();
  // Whether bars(obstacle) is true for an obstacle near the place.
  template <class Bars>
  bool anyNear(glm::dvec2 place, const Bars& bars) const;
  Barred pastBoard(double plate_radius, glm::dvec2 board_mm) const;
  Barred barsOfBoard(double plate_radius, glm::dvec2 board_mm) const;

  const plan::Plan& plan_;
  const scene::Scene& scene_;
  const scene::FillerMaker& maker_;
  const PlaceGrid& grid_;
  HeadOnView view_;
  std::vector<Obstacle> obstacles_;
  double bin_mm_ = 100;
  int bins_across_ = 1;
  int bins_down_ = 1;
  std::vector<std::vector<std::uint32_t>> bins_;
  std::vector<double> taken_;  // places of each bloom's face that old fillers hide
  double tape_step_mm_ = 1;
};

}  // namespace petalproof::candidates
