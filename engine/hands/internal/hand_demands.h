#pragma once
// What shows in simulated builds: places that fillers are to hide, each in one build and from one shot.

#include "engine/candidates/candidates.h"
#include "engine/candidates/must_hide.h"
#include "engine/scene/filler_maker.h"

#include <glm/vec2.hpp>

#include <cstdint>
#include <utility>
#include <vector>

namespace petalproof::hands {

// What shows in a build is asked of fillers that hang there so many times, each time otherwise.
inline constexpr std::uint64_t times_hung = 3;

// A place of a gap, in mm on the board plane, and how much it counts.
struct HandDemand {
  std::uint32_t view = 0;
  float weight = 1;
  glm::dvec2 at_mm{0};
};

class HandDemands {
 public:
  // Refers to `maker`, which must outlive it. The wall's size in mm.
  HandDemands(const scene::FillerMaker& maker, glm::dvec2 wall_mm);

  // What one shot sees of one build; `build` as in Eye. Returns its number.
  std::uint32_t addView(const glm::dvec3& eye, const scene::HandBuild* build, std::uint32_t number_of_build);
  void add(std::uint32_t view, const std::vector<glm::dvec2>& places_mm, float weight);

  std::uint32_t size() const { return static_cast<std::uint32_t>(demands_.size()); }
  const HandDemand& operator[](std::uint32_t k) const { return demands_[k]; }
  std::uint32_t buildOf(std::uint32_t k) const { return builds_[demands_[k].view]; }
  const glm::dvec3& eyeOf(std::uint32_t k) const { return eyes_[demands_[k].view].at; }
  bool isHiddenBy(const candidates::Candidate& candidate, std::uint32_t k) const;

  // Demands from number `from` on that the filler hides as it comes out in each build; those of a view
  // together.
  std::vector<std::uint32_t> hiddenBy(const candidates::Candidate& candidate, std::uint32_t from) const;

 private:
  std::size_t binOf(glm::dvec2 at) const;
  double reachOfAny(const candidates::Candidate& candidate) const;

  const scene::FillerMaker& maker_;
  std::vector<candidates::Eye> eyes_;  // by view
  std::vector<std::uint32_t> builds_;  // by view
  std::vector<std::uint32_t> apart_;   // views from different places, one each
  std::vector<HandDemand> demands_;
  std::size_t bins_across_ = 1;
  std::size_t bins_down_ = 1;
  std::vector<std::vector<std::uint32_t>> bins_;
};

}  // namespace petalproof::hands
