#pragma once
// Makes single fillers exactly as buildScene hangs them. The search for fillers tries places with it before a
// plan holds them.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/mesh.h"
#include "engine/scene/scene.h"

#include <glm/mat4x3.hpp>
#include <glm/vec2.hpp>

#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::scene {

// A kind of bloom that may be used as a filler.
struct FillerKind {
  int kind = 0;            // index into Plan::blooms
  double diameter_mm = 0;  // leaf, leaf spray, fern: length
  double width_mm = 0;     // leaf, leaf spray, fern: width; else the diameter
  double depth_mm = 0;
  double plate_mm = 0;
  bool greenery = false;
  std::vector<Mesh> copies;  // the different meshes of its copies
};

class FillerMaker {
 public:
  // Problems: those of buildScene, and those of mesh files of kinds that hang nowhere yet.
  static Result<FillerMaker> forPlan(const plan::LoadedPlan& loaded);

  const std::vector<FillerKind>& kinds() const { return kinds_; }  // in the order of Plan::blooms

  // The most degrees by which a copy is turned from the turn in the plan.
  double sway_deg() const;

  struct Hung {
    const Mesh* mesh = nullptr;
    glm::mat4x3 wallFromMesh{1.0F};
  };
  // `number`: index into kinds(). `from_corner_mm`: from the wall's left and top edge.
  Hung hang(std::size_t number, glm::dvec2 from_corner_mm, double turn_deg) const;

 private:
  std::vector<FillerKind> kinds_;
  std::uint64_t seed_ = 0;
  double variation_ = 0;
  double wall_height_mm_ = 0;
};

}  // namespace petalproof::scene
