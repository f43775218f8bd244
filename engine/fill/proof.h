#pragma once
// What the shots see of a plan, filled or not: what must be hidden there, and what is left.

#include "engine/candidates/must_hide.h"
#include "engine/candidates/search_task.h"
#include "engine/check/lost_strip.h"
#include "engine/fill/placed.h"

#include <functional>
#include <set>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace petalproof::fill {

// The ordinary check, and what it finds that must be hidden.
struct CheckedPlan {
  plan::LoadedPlan plan;
  check::Check check;
  candidates::MustHide must_hide;
  std::vector<visibility::PixelMask>
      bare;  // what each shot sees bare; kept with `rim`, and where all must be hidden
};
using SayProgress = std::function<void(double, const std::string&)>;
struct HowToCheck {
  bool rim = false;  // as MustHideCollector::add
  picture::Lighting lighting = picture::Lighting::full;
  SayProgress progress;
};
Result<CheckedPlan> checkPlan(const Filling& filling, plan::LoadedPlan plan, const scene::Scene& scene,
                              const HowToCheck& how, check::ShotChecker& checker);

// A look without readings, for a small part of a check's time: what LostStrips takes for gaps that read.
// Fillers only take from what is bare without them, so they alone are drawn.
class QuickLook {
 public:
  // `before`: shots of the wall without the fillers looked for, checked; `bare`: what each sees bare there.
  // Refers to its arguments.
  QuickLook(const Filling& filling, const std::vector<check::ShotCheck>& before,
            const std::vector<visibility::PixelMask>& bare);
  // What is left beside these fillers. Shots too large for CoverageRasteriser are left to the proof.
  candidates::MustHide see(std::span<const candidates::Candidate> chosen) const;

 private:
  const Filling& filling_;
  const std::vector<check::ShotCheck>& before_;
  const std::vector<visibility::PixelMask>& bare_;
  check::LostStrips lost_;
};

// A gap that a check finds and that should be hidden; refers to the check.
struct GapLeft {
  const check::ShotCheck* shot = nullptr;
  const gaps::Gap* gap = nullptr;
};
std::vector<GapLeft> gapsLeft(const check::Check& after, Hide hide);

// A place of a gap, in the middle of its middle row.
glm::dvec2 placeIn(const gaps::Gap& gap, const camera::Camera& camera);

// Each with the reason. `wanted`: as for whyLeft. Call within Workers::run.
std::vector<LeftGap> leftWithReasons(const candidates::SearchTask& task, const check::Check& after, Hide hide,
                                     const std::vector<candidates::Candidate>& chosen,
                                     const std::vector<int>& wanted);

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
bool foundMore(const candidates::MustHide& still, const GivenUp& given_up, const candidates::PlaceGrid& grid);

}  // namespace petalproof::fill
