#pragma once
// A filling as a row of steps: finds the bare places, chooses and proves fillers, makes the list for the day.
// hands/fill_plan.cc calls the steps and puts the step for imperfect hands between them.

#include "engine/base/pool.h"
#include "engine/candidates/must_hide.h"
#include "engine/candidates/search_task.h"
#include "engine/fill/fill.h"
#include "engine/fill/placed.h"
#include "engine/fill/proved_cover.h"
#include "engine/scene/filler_maker.h"

#include <optional>
#include <string>
#include <vector>

namespace petalproof::fill {

// A plan with the fillers that stay.
struct KeptPlan {
  plan::LoadedPlan loaded;
  std::vector<int> numbers;  // of those, into the given plan's fillers
};
KeptPlan keptPlan(const plan::LoadedPlan& given, bool start_over);

// A step of a filling, and which stretch of its time that takes.
struct FillProgress {
  const FillOptions& options;
  double from = 0;
  double share = 1;
  void say(double done, const std::string& doing) const {
    if (options.progress) options.progress(std::min(1.0, from + share * done), doing);
  }
};

// How many builds are to be clean: none where the plan's hands are perfect.
CleanWalls wallsAsked(const FillOptions& options, const plan::Plan& plan);

// Everything it is made with must outlive it. Each step's problems: as of buildScene and runCheck. Call the
// steps one after the other, as long as there are no problems.
class FillWork {
 public:
  FillWork(const KeptPlan& kept, const FillOptions& options, const scene::Scene& scene,
           const scene::FillerMaker& maker, const Pool& workers);

  std::vector<Problem> findWhatIsBare();
  // For perfect hands, proved.
  std::vector<Problem> fill() { return cover_->find(); }
  FillResult result();

  const KeptPlan& kept() const { return kept_; }
  const FillOptions& options() const { return options_; }
  const CleanWalls& asked() const { return asked_; }
  const Filling& filling() const { return filling_; }
  const candidates::SearchTask& task() const { return *task_; }
  const check::Check& before() const { return result_.before; }
  ProvedCover& cover() { return *cover_; }
  void addNote(std::string note) { result_.notes.push_back(std::move(note)); }
  // From here on, checks are those of fillers for hands, the last stretch of the filling's time.
  void proofsAreForHands() { for_hands_ = true; }
  void setHands(const HandsReport& report) { result_.hands = report; }

 private:
  FillProgress progressOfProof(light::Lighting lighting) const;

  const KeptPlan& kept_;
  const FillOptions& options_;
  CleanWalls asked_;
  candidates::PlaceGrid grid_;
  Filling filling_;
  check::ShotChecker checker_;
  std::optional<candidates::Sites> sites_;
  std::optional<candidates::SearchTask> task_;
  FillResult result_;
  candidates::MustHide first_;  // as the plan is given
  std::vector<visibility::PixelMask> bare_before_;
  std::optional<ProvedCover> cover_;  // of it
  bool for_hands_ = false;
};

}  // namespace petalproof::fill
