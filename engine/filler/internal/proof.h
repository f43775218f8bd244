#pragma once
// What the shots see of a plan, filled or not: what must be hidden there, and what is left.

#include "engine/check/lost_strip.h"
#include "engine/filler/internal/must_hide.h"
#include "engine/filler/internal/placed.h"
#include "engine/filler/internal/search_task.h"

#include <functional>
#include <set>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace petalproof {

// The ordinary check, and what it finds that must be hidden.
struct CheckedPlan {
  LoadedPlan plan;
  Check check;
  MustHide must_hide;
  std::vector<PixelMask> bare;  // what each shot sees bare; kept with `rim`, and where all must be hidden
};
using SayProgress = std::function<void(double, const std::string&)>;
struct HowToCheck {
  bool rim = false;  // as MustHideCollector::add
  Lighting lighting = Lighting::full;
  SayProgress progress;
};
Result<CheckedPlan> checkPlan(const Filling& filling, LoadedPlan plan, const Scene& scene,
                              const HowToCheck& how, ShotChecker& checker);

// A look without readings, for a small part of a check's time: what LostStrips takes for gaps that read.
// Fillers only take from what is bare without them, so they alone are drawn.
class QuickLook {
 public:
  // `before`: shots of the wall without the fillers looked for, checked; `bare`: what each sees bare there.
  // Refers to its arguments.
  QuickLook(const Filling& filling, const std::vector<ShotCheck>& before, const std::vector<PixelMask>& bare);
  // What is left beside these fillers. Shots too large for CoverageRasteriser are left to the proof.
  MustHide see(std::span<const Candidate> chosen) const;

 private:
  const Filling& filling_;
  const std::vector<ShotCheck>& before_;
  const std::vector<PixelMask>& bare_;
  LostStrips lost_;
};

// A gap that a check finds and that should be hidden; refers to the check.
struct GapLeft {
  const ShotCheck* shot = nullptr;
  const Gap* gap = nullptr;
};
std::vector<GapLeft> gapsLeft(const Check& after, Hide hide);

// A place of a gap, in the middle of its middle row.
glm::dvec2 placeIn(const Gap& gap, const Camera& camera);

// Each with the reason. `wanted`: as for whyLeft. Call within Workers::run.
std::vector<LeftGap> leftWithReasons(const SearchTask& task, const Check& after, Hide hide,
                                     const std::vector<Candidate>& chosen, const std::vector<int>& wanted);

// About where the search left places bare that nothing hides: within 16 mm or so.
class GivenUp {
 public:
  explicit GivenUp(const std::vector<glm::dvec2>& places);
  bool isNear(glm::dvec2 place) const { return blocks_.count(blockOf(place)) != 0; }

 private:
  using Block = std::pair<int, int>;
  static Block blockOf(glm::dvec2 place);
  std::set<Block> blocks_;
};

// Whether `still` has places elsewhere.
bool foundMore(const MustHide& still, const GivenUp& given_up, const PlaceGrid& grid);

}  // namespace petalproof
