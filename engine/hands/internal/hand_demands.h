#pragma once
// Demands: places that show in simulated builds, each in a build and from a shot, for fillers to hide.
// HandsCover collects them and asks which of them a candidate hides.

#include "engine/candidates/candidates.h"
#include "engine/candidates/must_hide.h"
#include "engine/scene/filler_maker.h"

#include <glm/vec2.hpp>

#include <cstdint>
#include <utility>
#include <vector>

namespace petalproof::hands {

// How many times each build's fillers are hung, each time a little differently: a demand for each.
inline constexpr std::uint64_t times_hung = 3;

// A place of a gap on the board plane, and how much it counts.
struct HandDemand {
  std::uint32_t view = 0;  // which build it shows in, from which shot
  float weight = 1;
  glm::dvec2 at_mm{0};
};

class HandDemands {
 public:
  // Refers to `maker`, which must outlive it. `wall_mm`: the wall's size.
  HandDemands(const scene::FillerMaker& maker, glm::dvec2 wall_mm);

  // Adds the view of a build from a shot's camera; `build` as in Eye. Returns the view's number.
  std::uint32_t addView(const glm::dvec3& eye, const scene::HandBuild* build, std::uint32_t number_of_build);
  void add(std::uint32_t view, const std::vector<glm::dvec2>& places_mm, float weight);

  std::uint32_t size() const { return static_cast<std::uint32_t>(demands_.size()); }
  const HandDemand& operator[](std::uint32_t k) const { return demands_[k]; }
  std::uint32_t buildOf(std::uint32_t k) const { return builds_[demands_[k].view]; }
  const glm::dvec3& eyeOf(std::uint32_t k) const { return eyes_[demands_[k].view].at; }
  bool isHiddenBy(const candidates::Candidate& candidate, std::uint32_t k) const;

  // The demands from number `from` on that the filler hides as it comes out in each build, ascending.
  std::vector<std::uint32_t> hiddenBy(const candidates::Candidate& candidate, std::uint32_t from) const;

 private:
  std::size_t binOf(glm::dvec2 at) const;
  double reachOfAny(const candidates::Candidate& candidate) const;

  const scene::FillerMaker& maker_;
  std::vector<candidates::Eye> eyes_;  // by view
  std::vector<std::uint32_t> builds_;  // by view
  std::vector<std::uint32_t> apart_;   // a view for each place of a camera
  std::vector<HandDemand> demands_;
  std::size_t bins_across_ = 1;
  std::size_t bins_down_ = 1;
  std::vector<std::vector<std::uint32_t>> bins_;
};

}  // namespace petalproof::hands
