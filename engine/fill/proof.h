#pragma once
// Checks a plan, filled or not, and finds which places its shots see bare that must be hidden. FillWork and
// ProvedCover call it before and after placing fillers.

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

// The ordinary check of a plan, and the places that must be hidden by what it finds.
struct CheckedPlan {
  plan::LoadedPlan plan;
  check::Check check;
  candidates::MustHide must_hide;
  std::vector<visibility::PixelMask>
      bare;  // the pixels that each shot sees bare; empty masks unless `rim` or Hide::all
};
using SayProgress = std::function<void(double, const std::string&)>;
struct HowToCheck {
  bool rim = false;  // as MustHideCollector::add
  picture::Lighting lighting = picture::Lighting::full;
  SayProgress progress;
};
Result<CheckedPlan> checkPlan(const Filling& filling, plan::LoadedPlan plan, const scene::Scene& scene,
                              const HowToCheck& how, check::ShotChecker& checker);

// Finds what chosen fillers leave bare in a small part of a check's time: LostStrips guesses how gaps read.
// Fillers only remove bare pixels, so the look draws nothing but them.
class QuickLook {
 public:
  // `before`: the checked shots of the wall without new fillers; `bare`: the pixels that each sees bare
  // there. Refers to its arguments.
  QuickLook(const Filling& filling, const std::vector<check::ShotCheck>& before,
            const std::vector<visibility::PixelMask>& bare);
  // The places that these fillers leave bare and that must be hidden. Shots too large for CoverageRasteriser
  // are left to the proof.
  candidates::MustHide see(std::span<const candidates::Candidate> chosen) const;

 private:
  const Filling& filling_;
  const std::vector<check::ShotCheck>& before_;
  const std::vector<visibility::PixelMask>& bare_;
  check::LostStrips lost_;
};

// A gap that a check finds although it should be hidden; refers to the check.
struct GapLeft {
  const check::ShotCheck* shot = nullptr;
  const gaps::Gap* gap = nullptr;
};
std::vector<GapLeft> gapsLeft(const check::Check& after, Hide hide);

// The place of a gap that its middle row's middle pixel shows.
glm::dvec2 placeIn(const gaps::Gap& gap, const camera::Camera& camera);

// The gaps that are left, each with the reason. `wanted`: as for whyLeft.
std::vector<LeftGap> leftWithReasons(const candidates::SearchTask& task, const check::Check& after, Hide hide,
                                     const std::vector<candidates::Candidate>& chosen,
                                     const std::vector<int>& wanted);

// Tells whether a place is near (within about 16 mm of) a place that the search left bare.
class GivenUp {
 public:
  explicit GivenUp(const std::vector<glm::dvec2>& places);
  bool isNear(glm::dvec2 place) const { return blocks_.count(blockOf(place)) != 0; }

 private:
  using Block = std::pair<int, int>;
  static Block blockOf(glm::dvec2 place);
  std::set<Block> blocks_;
};

// Whether `still` has places that aren't near those given up.
bool foundMore(const candidates::MustHide& still, const GivenUp& given_up, const candidates::PlaceGrid& grid);

}  // namespace petalproof::fill
