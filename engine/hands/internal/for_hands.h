#pragma once
// Simulated builds that fillers are found for, and those that they are tried on.

#include "engine/candidates/search_task.h"
#include "engine/check/builds.h"
#include "engine/check/lost_strip.h"
#include "engine/fill/fill.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/handmade.h"
#include "engine/scene/scene.h"

#include <cstdint>
#include <deque>
#include <functional>
#include <span>
#include <vector>

namespace petalproof::hands {

struct HandsTask {
  const plan::LoadedPlan& base;                // with the fillers that stay
  const scene::Scene& scene;                   // of it
  const std::vector<check::ShotCheck>& shots;  // of it, with readings
  scene::HandErrors errors;
  fill::Hide hide = fill::Hide::faint;
  std::uint64_t seed = 1;
  int threads = 0;
  std::function<bool()> cancelled;  // may be empty
};

// A gap of a build, by the middle of what has to be hidden of it.
struct GapOfHands {
  std::size_t build = 0;  // index into what was looked at
  std::size_t shot = 0;
  glm::dvec2 centre_mm{0};
  std::vector<glm::dvec2> places_mm;
};

// At preview size slivers are missed that the delivered picture has, in a part of the time.
enum class Closeness { preview, asDelivered };

// Builds that fillers are found for, each looked at once. They are kept, for eyes that refer to them.
class HandsTraining {
 public:
  explicit HandsTraining(const HandsTask& task);

  struct Looked {
    // The same walls, their fillers hung so many times: first as they were looked at.
    std::vector<std::span<const scene::HandBuild>> hung;
    std::size_t builds() const { return hung.front().size(); }
    std::vector<GapOfHands> gaps;  // what would be noticed, by build, then shot
  };
  // So many builds more of the wall with the fillers that `filled` has, by hands so many times as loose: then
  // what seldom shows does so more often.
  Looked look(const scene::Scene& filled, int builds, Closeness closeness, double looser = 1);

 private:
  HandsTask task_;
  check::LostStrips lost_;
  std::deque<std::vector<scene::HandBuild>> builds_;  // of each look
  std::uint64_t tried_ = 0;
};

// Builds that no filler was found for: how many come out clean. `stays`: places of gaps that even perfect
// hands leave.
fill::HandsReport reportOnHands(const HandsTask& task, const scene::Scene& filled,
                                const fill::CleanWalls& asked, const std::vector<glm::dvec2>& stays);
// Whether a gap of a build is one of those that stay.
bool staysNear(const std::vector<glm::dvec2>& stays, glm::dvec2 centre_mm);

}  // namespace petalproof::hands
