#pragma once
// What imperfect hands add to what must be hidden: simulated builds of the filled wall in which something
// shows.

#include "engine/check/builds.h"
#include "engine/filler/fill.h"
#include "engine/filler/internal/must_hide.h"
#include "engine/plan/plan.h"
#include "engine/scene/handmade.h"
#include "engine/scene/scene.h"

#include <deque>
#include <functional>
#include <vector>

namespace petalproof {

struct HandsTask {
  const Plan& plan;                     // with the fillers that stay
  const Scene& scene;                   // of it
  const std::vector<ShotCheck>& shots;  // of it, with readings
  HandErrors errors;
  Hide hide = Hide::faint;
  std::uint64_t seed = 1;
  int threads = 0;
  std::function<bool()> cancelled;  // may be empty
};

// The builds that fillers are found for. Each gets eyes of its own, which refer to this.
class HandsTraining {
 public:
  HandsTraining(const HandsTask& task, int builds);

  // How closely to look: at how many of the builds, and how far apart the places are that are added.
  struct Look {
    int builds = 0;
    double apart_mm = 4;
  };
  // Looks at builds of a scene, with fillers or yet without; adds to `all` what shows. Returns how many of
  // them are clean.
  int extend(const Scene& scene, const Look& look, MustHide& all);

 private:
  void addTo(MustHide& all, Eye seen_by, const std::vector<Gap>& gaps, const Camera& camera, double apart_mm);

  HandsTask task_;
  std::deque<HandBuild> builds_;
};

// Builds that no filler was found for: how many come out clean.
HandsReport reportOnHands(const HandsTask& task, const Scene& filled, const CleanWalls& asked);

}  // namespace petalproof
