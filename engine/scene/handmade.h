#pragma once
// Simulates a wall built by hand: every bloom a little larger or smaller, flatter or deeper, beside its place
// and turned, every panel hung a little aside and out from its neighbours. The check of builds and the search
// for fillers make HandBuilds.
//
// Errors are normal, cut at three standard deviations. They come from hashes of (seed, build, cell, index in
// the layout), for fillers of (seed, build, place), never from a sequence: adding or moving a bloom changes
// no other, and a filler that is only tried comes out as it would on the wall.

#include "engine/plan/plan.h"
#include "engine/scene/scene.h"

#include <glm/mat4x3.hpp>
#include <glm/vec2.hpp>

#include <cstdint>
#include <vector>

namespace petalproof::scene {

// One standard deviation each.
struct HandErrors {
  double bloom_size = 0;   // share of the diameter
  double bloom_depth = 0;  // share of the depth
  double place_mm = 0;     // across, and likewise up
  double turn_deg = 0;     // of greenery; round blooms come in any turn
  double hang_mm = 0;      // of a panel, across, and likewise up
  // Of the middle of a panel's edge, out from the board plane; half of the variance is the whole panel's
  // shift, half its tilt.
  double step_mm = 0;
};
// Each error times `factor`.
HandErrors times(const HandErrors& errors, double factor);
HandErrors handErrorsOf(const plan::Hands& hands, Units units);

class HandBuild {
 public:
  // Keeps a reference to the scene, which must outlive it. `build` numbers the builds from 0.
  HandBuild(const Scene& scene, const HandErrors& errors, std::uint64_t seed, std::uint64_t build);
  // The same wall with its fillers hung once more: fillers come out differently, panels and their blooms as
  // before. `time` 0 gives this build.
  HandBuild withFillersHungAgain(std::uint64_t time) const;

  // The place of a bloom of the scene as built. `greenery`: its turn is kept; round blooms come in any turn.
  glm::mat4x3 wallFromMesh(const BloomInstance& bloom, bool greenery) const;
  // The largest differences between a built bloom and the plan.
  struct Farthest {
    double larger = 0;  // share of the diameter
    double deeper = 0;  // share of the depth
    double aside_mm = 0;
  };
  Farthest farthest() const;

  // The place as built of a filler that the plan hangs at `at_mm` of the board plane by `wallFromMesh`.
  glm::mat4x3 wallFromFiller(const glm::mat4x3& wallFromMesh, glm::dvec2 at_mm, bool greenery) const;

 private:
  struct PanelError {
    glm::dvec2 hang_mm{0};
    double out_mm = 0;   // at its middle
    glm::dvec2 tilt{0};  // out per mm across, and up
    glm::dvec2 middle{0};
  };
  glm::mat4x3 comeOut(const glm::mat4x3& wallFromMesh, const PanelError* panel, std::uint64_t hash,
                      bool greenery) const;
  const PanelError* panelUnder(glm::dvec2 at_mm) const;

  const Scene& scene_;
  HandErrors errors_;
  std::uint64_t hash_;  // of the build
  std::uint64_t fillers_hash_;
  std::vector<PanelError> panels_;
};

// Scene::blooms at their places as built. `greenery`: by kind of the plan, from greeneryOf().
std::vector<BloomInstance> builtBlooms(const Scene& scene, const HandBuild& build,
                                       const std::vector<char>& greenery);
// For each kind of the plan, whether it is a leaf, leaf spray or fern.
std::vector<char> greeneryOf(const plan::Plan& plan);

}  // namespace petalproof::scene
