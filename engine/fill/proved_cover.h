#pragma once
// Fillers that the ordinary check proves: a cover of what is bare, looked at and checked, and added to by
// what that finds, until nothing more comes of it.

#include "engine/base/threads.h"
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
  // What the shots see of the wall without the fillers looked for.
  struct Before {
    const std::vector<check::ShotCheck>& shots;
    const std::vector<visibility::PixelMask>& bare;  // of each shot
    const candidates::MustHide& must_hide;
  };
  using SayOfCheck = std::function<void(picture::Lighting, double, const std::string&)>;  // of a check

  // Refers to its arguments, which must outlive it. `say` may not be empty.
  ProvedCover(const Filling& filling, const candidates::SearchTask& task, check::ShotChecker& checker,
              const Before& before, SayOfCheck say);

  // Finds them and proves them, or shows what is left. Problems: as of fillPlan.
  std::vector<Problem> find();
  // Places these instead and checks them; false, and nothing is done, where the last check was of them.
  Result<bool> proveThese(std::vector<candidates::Candidate> chosen);

  const std::vector<candidates::Candidate>& chosen() const { return chosen_; }
  const std::vector<PlacedFiller>& placed() const { return placed_; }
  const candidates::MustHide& hidden() const { return all_; }  // what they hide, and still must
  const CheckedPlan& proof() const { return proof_; }          // of the last check
  const FillerSearch& search() const { return search_; }
  CheckedPlan takeProof() { return std::move(proof_); }
  Result<scene::Scene> scene() const { return scene::buildScene(filledPlan(filling_.base, placed_)); }

 private:
  using Again = FillerSearch::Again;
  using LookedAt = std::tuple<std::ptrdiff_t, int, int>;  // shot, and where in squares of 8 mm
  struct Lacking {
    glm::dvec3 eye{0};
    glm::dvec2 place{0};
    LookedAt key;
  };
  bool stop() const { return task_.isCancelled(); }
  void cover(Again again = Again::add);
  void coverWhatIsSeen();
  void fill();
  std::vector<Problem> check(picture::Lighting lighting);
  std::vector<Lacking> lacking() const;
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
  Workers workers_;
  FillerSearch search_;
  candidates::MustHide all_;
  std::vector<candidates::Candidate> chosen_;
  std::vector<PlacedFiller> placed_;
  CheckedPlan proof_;
  std::set<LookedAt> looked_in_vain_;
  int improved_ = 0;
};

}  // namespace petalproof::fill
