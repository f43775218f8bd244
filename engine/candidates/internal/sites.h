#pragma once
// Where a filler may sit: what its base plate needs, what its petals must leave alone.

#include "engine/candidates/internal/head_on.h"
#include "engine/candidates/internal/place_grid.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/filler_maker.h"
#include "engine/scene/scene.h"

#include <glm/vec2.hpp>

#include <cstdint>
#include <string>
#include <vector>

namespace petalproof::candidates {

// What keeps a filler from a site; `bloom`: whose plate or inner half, index into Scene::blooms.
enum class Bar { none, edge, emptyCell, slit, plate, innerHalf, face, hang };
constexpr double hang_at_side = 1.0 / 3;  // of the diameter, past the wall's outer edge; at the top too
constexpr double hang_at_bottom = 1.0 / 2;
struct Barred {
  Bar by = Bar::none;
  std::int32_t bloom = -1;
};

// A filler's place as the plan says it, in the plan's unit, and in mm.
struct Site {
  plan::TapePoint at;            // from the wall's left and top edge
  glm::dvec2 from_corner_mm{0};  // the same in mm
  glm::dvec2 board_mm{0};        // on the board plane
};

// True if a disc has a point within.
bool reachesInto(const InnerHalf& inner, glm::dvec2 centre, double radius);

class Sites {
 public:
  // Refers to its arguments, which must outlive it.
  Sites(const plan::Plan& plan, const scene::Scene& scene, const scene::FillerMaker& maker,
        const PlaceGrid& grid);

  // The nearest place that a tape finds: whole eighths of an inch, or mm, from the left and the top edge of
  // the panel that it is on (on a slit: of the left or upper one).
  Site nearestSite(glm::dvec2 board_mm) const;
  double tapeStep_mm() const { return tape_step_mm_; }

  // By its plate alone.
  Barred barsPlate(const scene::FillerKind& kind, glm::dvec2 board_mm) const;
  // True only if its plate fits nowhere within so much of the place.
  bool plateFitsNowhere(const scene::FillerKind& kind, glm::dvec2 board_mm, double within_mm) const;
  // By all rules that concern it alone; `takes`, if given: what it hides of larger blooms' faces, in places
  // of the grid.
  Barred bars(std::size_t kind, const Site& site, double turn_deg,
              std::vector<FaceHidden>* takes = nullptr) const;
  // The most that all fillers together may take of a bloom's face, less what those that hang have taken.
  double faceLimit(std::int32_t bloom) const;

  InnerHalf innerHalfOf(const scene::FillerKind& kind, glm::dvec2 board_mm, double turn_deg) const;
  const PlaceGrid& grid() const { return grid_; }
  // A quick guess for one place that a filler reaches at a height: it would be seen in a larger inner half.
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
  template <class Visit>
  bool anyNear(glm::dvec2 place, const Visit& bars_it) const;
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
  std::vector<double> taken_;  // of each bloom's face by the fillers that hang
  double tape_step_mm_ = 1;
};

}  // namespace petalproof::candidates
