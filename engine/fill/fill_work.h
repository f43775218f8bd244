#pragma once
// A filling as a row of steps: finds the bare places, chooses and proves fillers, makes the list for the day.
// hands/fill_plan.cc calls the steps and puts the step for imperfect hands between them.

#include "engine/base/threads.h"
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
  std::vector<int> numbers;  // of the fillers that stay, into the given plan's fillers
};
KeptPlan keptPlan(const plan::LoadedPlan& given, bool start_over);

// Reports the progress of a step, which takes a stretch of the filling's time.
struct FillProgress {
  const FillOptions& options;
  double from = 0;
  double share = 1;
  void say(double done, const std::string& step) const {
    if (options.progress) options.progress(std::min(1.0, from + share * done), step);
  }
};

// The share of builds that must be clean; none where the plan's hands are perfect.
CleanWalls wallsAsked(const FillOptions& options, const plan::Plan& plan);

// Refers to the values that it is made with, which must outlive it. Call the steps one after the other, as
// long as none returns problems. Problems: as of buildScene and runCheck.
class FillWork {
 public:
  FillWork(const KeptPlan& kept, const FillOptions& options, const scene::Scene& scene,
           const scene::FillerMaker& maker);

  std::vector<Problem> findWhatIsBare();
  // Finds and proves fillers for perfect hands.
  std::vector<Problem> fill() { return cover_->find(); }
  FillResult result();

  bool cancelled() const { return options_.cancelled && options_.cancelled(); }
  const KeptPlan& kept() const { return kept_; }
  const FillOptions& options() const { return options_; }
  const CleanWalls& asked() const { return asked_; }
  const Filling& filling() const { return filling_; }
  const candidates::SearchTask& task() const { return *task_; }
  const check::Check& before() const { return result_.before; }
  ProvedCover& cover() { return *cover_; }
  void addNote(std::string note) { result_.notes.push_back(std::move(note)); }
  // Tells that the next proofs are of fillers for hands: the last stretch of the filling's time.
  void proofsAreForHands() { for_hands_ = true; }
  void setHands(const HandsReport& report) { result_.hands = report; }

 private:
  FillProgress progressOfProof(light::Lighting lighting) const;

  const KeptPlan& kept_;
  const FillOptions& options_;
  CleanWalls asked_;
  candidates::PlaceGrid grid_;
  Filling filling_;
  Workers workers_;
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
