#pragma once
// What imperfect hands add to what must be hidden: simulated builds in which something shows.

#include "engine/check/builds.h"
#include "engine/check/lost_strip.h"
#include "engine/filler/fill.h"
#include "engine/filler/internal/must_hide.h"
#include "engine/filler/internal/search_task.h"
#include "engine/plan/plan.h"
#include "engine/scene/handmade.h"
#include "engine/scene/scene.h"

#include <cstdint>
#include <deque>
#include <functional>
#include <optional>
#include <string>
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

// Builds that fillers are found for, each looked at once. Some get eyes of their own, which refer to this.
class HandsTraining {
 public:
  explicit HandsTraining(const HandsTask& task);

  // What so many builds of a scene show, all together, by the shots' eyes: on the grid.
  MustHide everBare(const Scene& scene, int builds, const PlaceGrid& grid);
  // How many of so many builds more are clean.
  int countClean(const Scene& scene, int builds);
  // So many builds more. Adds what shows to `all`, by eyes of each build; returns how many of them are clean.
  int tryMore(const Scene& scene, int builds, MustHide& all);

 private:
  std::vector<GapsOfBuild> look(const Scene& scene, int builds);
  std::vector<glm::dvec2> placesOf(std::size_t shot, const Gap& gap) const;

  HandsTask task_;
  LostStrips lost_;
  std::deque<std::vector<HandBuild>> builds_;  // of each look
  std::uint64_t tried_ = 0;
};

// Builds that no filler was found for: how many come out clean.
HandsReport reportOnHands(const HandsTask& task, const Scene& filled, const CleanWalls& asked);
// In words, where fewer are clean than was asked for. `wanted`: by kind of the maker's, how many fillers more
// than the stock would hide what builds show.
std::optional<std::string> whyNotClean(const HandsReport& report, const SearchTask& task,
                                       const std::vector<int>& wanted);

}  // namespace petalproof
