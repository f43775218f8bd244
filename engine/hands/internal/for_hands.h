#pragma once
// Simulates builds by imperfect hands: builds that fillers are found for (HandsTraining, for HandsSearch) and
// others that the filled wall is judged by (reportOnHands, for fillPlan).

#include "engine/base/pool.h"
#include "engine/candidates/search_task.h"
#include "engine/check/builds.h"
#include "engine/check/lost_strip.h"
#include "engine/fill/fill.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/handmade.h"
#include "engine/scene/scene.h"

#include <cstdint>
#include <deque>
#include <span>
#include <stop_token>
#include <vector>

namespace petalproof::hands {

// The wall and its hands; refers to values that must outlive it.
struct HandsTask {
  const plan::LoadedPlan& base;                // with the fillers that stay
  const scene::Scene& scene;                   // of `base`
  const std::vector<check::ShotCheck>& shots;  // of `base`, with readings
  scene::HandErrors errors;
  fill::Hide hide;
  std::uint64_t seed;
  const Pool& workers;
  std::stop_token stop = {};
};

// A gap of a build, and the places of its middle, which must be hidden.
struct GapOfHands {
  std::size_t build = 0;  // index into the builds of the look
  std::size_t shot = 0;
  glm::dvec2 centre_mm{0};
  std::vector<glm::dvec2> places_mm;
};

// The size of the pictures that builds are looked at in: previews take a part of the time but miss slivers.
enum class Closeness { preview, asDelivered };

// Makes builds and looks at each once. Keeps them, because eyes refer to them.
class HandsTraining {
 public:
  explicit HandsTraining(const HandsTask& task);

  struct Looked {
    // The same builds with their fillers hung several times (times_hung): first as they were looked at.
    std::vector<std::span<const scene::HandBuild>> hung;
    std::size_t builds() const { return hung.front().size(); }
    std::vector<GapOfHands> gaps;  // those that would be noticed, by build, then shot
  };
  // Looks at `builds` new builds of the wall with the fillers of `filled`. `looser`: a factor on the hands'
  // errors; with larger errors rare gaps show more often.
  Looked look(const scene::Scene& filled, int builds, Closeness closeness, double looser = 1);

 private:
  HandsTask task_;
  check::LostStrips lost_;
  std::deque<std::vector<scene::HandBuild>> builds_;  // of each look
  std::uint64_t tried_ = 0;
};

// Counts how many builds come out clean, among builds that no filler was found for. `stays`: places of gaps
// that even perfect hands leave.
fill::HandsReport reportOnHands(const HandsTask& task, const scene::Scene& filled,
                                const fill::CleanWalls& asked, const std::vector<glm::dvec2>& stays);
// Whether a gap of a build is near a gap that stays.
bool staysNear(const std::vector<glm::dvec2>& stays, glm::dvec2 centre_mm);

}  // namespace petalproof::hands
