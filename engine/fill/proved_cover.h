#pragma once
// Finds fillers that the ordinary check proves: covers the bare places, checks the filled plan, and covers
// what the check still finds, until that finds nothing new. FillWork runs it; the hands' step proves its own
// fillers with it.

#include "engine/candidates/must_hide.h"
#include "engine/fill/placed.h"
#include "engine/fill/proof.h"
#include "engine/fill/search.h"

#include <cstddef>
#include <functional>
#include <set>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

namespace petalproof::fill {

class ProvedCover {
 public:
  // The shots of the wall without new fillers.
  struct Before {
    const std::vector<check::ShotCheck>& shots;
    const std::vector<visibility::PixelMask>& bare;  // of each shot
    const candidates::MustHide& must_hide;
  };
  // Gets a check's lighting, the share of it done, and words for its step.
  using SayOfCheck = std::function<void(picture::Lighting, double, const std::string&)>;

  // Refers to its arguments, which must outlive it. `say` may not be empty.
  ProvedCover(const Filling& filling, const candidates::SearchTask& task, check::ShotChecker& checker,
              const Before& before, SayOfCheck say);

  // Finds fillers and checks them; proof() shows which gaps are left. Problems: as of fillPlan.
  std::vector<Problem> find();
  // Places these fillers instead and checks them; false if the last check was of the same fillers already.
  Result<bool> proveThese(std::vector<candidates::Candidate> chosen);

  const std::vector<candidates::Candidate>& chosen() const { return chosen_; }
  const std::vector<PlacedFiller>& placed() const { return placed_; }
  const candidates::MustHide& hidden() const {
    return must_hide_;
  }                                                    // the places that they hide or still must hide
  const CheckedPlan& proof() const { return proof_; }  // the last check
  const FillerSearch& search() const { return search_; }
  CheckedPlan takeProof() { return std::move(proof_); }
  Result<scene::Scene> scene() const { return scene::buildScene(filledPlan(filling_.base, placed_)); }

 private:
  using Again = FillerSearch::Again;
  using LookedAt = std::tuple<std::ptrdiff_t, int, int>;  // shot, and square of 8 mm
  struct BareGap {
    glm::dvec3 eye{0};
    glm::dvec2 place{0};
    LookedAt key;
  };
  void cover(Again again = Again::add);
  void coverWhatIsSeen();
  void fill();
  std::vector<Problem> check(picture::Lighting lighting);
  std::vector<BareGap> gapsToLookAt() const;
  bool suggestForWhatIsLeft();
  bool learn();
  bool coverWhatIsLeft(Again again);
  std::size_t coverMore();
  std::vector<Problem> settleInRoughLight();

  const Filling& filling_;
  const candidates::SearchTask& task_;
  check::ShotChecker& checker_;
  Before before_;
  SayOfCheck say_;
  FillerSearch search_;
  candidates::MustHide must_hide_;  // all that the checks have found
  std::vector<candidates::Candidate> chosen_;
  std::vector<PlacedFiller> placed_;
  CheckedPlan proof_;
  std::set<LookedAt> looked_in_vain_;
  int improved_ = 0;  // covers that were also made smaller
};

}  // namespace petalproof::fill
