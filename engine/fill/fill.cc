#include "engine/fill/fill.h"

#include "engine/base/threads.h"
#include "engine/candidates/must_hide.h"
#include "engine/fill/internal/lower_bound.h"
#include "engine/fill/internal/placed.h"
#include "engine/fill/internal/proved_cover.h"
#include "engine/fill/why_left.h"
#include "engine/hands/for_hands.h"
#include "engine/hands/hands_search.h"
#include "engine/scene/filler_maker.h"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>

namespace petalproof::fill {
namespace {

constexpr int most_proofs_for_hands = 3;

struct Kept {
  plan::LoadedPlan loaded;
  std::vector<int> numbers;  // into the given plan's fillers
};

Kept keptPlan(const plan::LoadedPlan& given, bool start_over) {
  Kept kept{given, {}};
  kept.loaded.plan.fillers.clear();
  kept.loaded.places.fillers.clear();
  for (std::size_t k = 0; k < given.plan.fillers.size(); ++k) {
    const plan::Filler& filler = given.plan.fillers[k];
    if (start_over && !filler.fixed) continue;
    kept.loaded.plan.fillers.push_back(filler);
    if (k < given.places.fillers.size()) kept.loaded.places.fillers.push_back(given.places.fillers[k]);
    kept.numbers.push_back(static_cast<int>(k));
  }
  return kept;
}

// The steps of a filling and how much of the time each takes.
struct Progress {
  const FillOptions& options;
  double from = 0;
  double share = 1;
  void say(double done, const std::string& doing) const {
    if (options.progress) options.progress(std::min(1.0, from + share * done), doing);
  }
};

// For what the answer hides: where some gaps are left, a placement need not hide them either.
int atLeast(const Filling& filling, const candidates::SearchTask& task, const candidates::MustHide& first,
            const std::vector<candidates::Candidate>& chosen, bool all_hidden) {
  if (all_hidden) return fewestFillers(first, task);
  std::vector<std::vector<candidates::Silhouette>> seen(first.eyes.size());
  for (std::size_t eye = 0; eye < seen.size(); ++eye)
    for (const candidates::Candidate& one : chosen)
      seen[eye].push_back(candidates::silhouetteOf(filling.maker, one, first.eyes[eye].at));
  return fewestFillers(first, task, [&](std::uint32_t eye, glm::dvec2 place) {
    return std::any_of(seen[eye].begin(), seen[eye].end(),
                       [&](const candidates::Silhouette& one) { return candidates::hides(one, place); });
  });
}

CleanWalls wallsAsked(const FillOptions& options, const plan::Plan& plan) {
  if (!plan.hands) return {0, 1};
  return options.walls.value_or(CleanWalls{});
}

// One filling from what is bare to the list for the day. Everything it is made with must outlive it.
class FillWork {
 public:
  FillWork(const Kept& kept, const FillOptions& options, const scene::Scene& scene,
           const scene::FillerMaker& maker)
      : kept_(kept),
        options_(options),
        asked_(wallsAsked(options, kept.loaded.plan)),
        grid_(candidates::placeGridOf(scene.panels)),
        filling_{kept.loaded, options, scene, maker, grid_},
        workers_(options.threads),
        checker_(kept.loaded, scene, options.threads, options.hide != Hide::all || options.readings) {
    workers_.run([&] { sites_.emplace(kept.loaded.plan, scene, maker, grid_); });
    const Progress placing{options, 0.3, asked_.clean > 0 ? 0.15 : 0.4};
    task_.emplace(candidates::SearchTask{kept.loaded.plan, scene, maker, *sites_,
                                         options.seed.value_or(kept.loaded.plan.seed),
                                         [placing](double done) { placing.say(done, "placing fillers"); },
                                         options.cancelled, options.now_and_then});
  }

  // Problems: as of fillPlan. Until there are any, one after the other.
  std::vector<Problem> findWhatIsBare();
  std::vector<Problem> fill() { return cover_->find(); }
  std::vector<Problem> fillForHands();
  FillResult result();

 private:
  bool cancelled() const { return options_.cancelled && options_.cancelled(); }
  Progress progressOfProof(picture::Lighting lighting) const;
  std::vector<Problem> proveForHands(hands::HandsSearch& search, std::size_t stay);

  const Kept& kept_;
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
  std::optional<ProvedCover> cover_;       // of it
  std::optional<hands::HandsTask> hands_;  // where they aren't perfect
};

std::vector<Problem> FillWork::findWhatIsBare() {
  const auto say = [this](double done, const std::string& doing) {
    Progress{options_, 0, 0.3}.say(done, doing);
  };
  Result<CheckedPlan> before =
      checkPlan(filling_, kept_.loaded, filling_.scene, {true, picture::Lighting::full, say}, checker_);
  if (!before) return std::move(before.problems);
  result_.before = std::move(before.value->check);
  for (const check::ShotCheck& shot : result_.before.shots) filling_.cameras.push_back(shot.camera);
  first_ = std::move(before.value->must_hide);
  bare_before_ = std::move(before.value->bare);
  cover_.emplace(filling_, *task_, checker_, ProvedCover::Before{result_.before.shots, bare_before_, first_},
                 [this](picture::Lighting lighting, double done, const std::string& doing) {
                   progressOfProof(lighting).say(done, doing);
                 });
  return {};
}

Progress FillWork::progressOfProof(picture::Lighting lighting) const {
  const bool is_rough = lighting == picture::Lighting::rough;
  if (hands_) return {options_, 0.85, 0.15};
  if (asked_.clean > 0) return is_rough ? Progress{options_, 0.45, 0.05} : Progress{options_, 0.5, 0.1};
  return is_rough ? Progress{options_, 0.7, 0.1} : Progress{options_, 0.8, 0.2};
}

std::vector<Problem> FillWork::fillForHands() {
  if (!kept_.loaded.plan.hands && options_.walls && options_.walls->clean > 0)
    result_.notes.push_back("the plan has no [hands], so hands are taken to be perfect");
  if (asked_.clean == 0 || cancelled()) return {};
  const plan::Plan& plan = kept_.loaded.plan;
  hands_.emplace(hands::HandsTask{kept_.loaded, filling_.scene, result_.before.shots,
                                  scene::handErrorsOf(*plan.hands, plan.units), options_.hide, task_->seed,
                                  options_.threads, options_.cancelled});
  hands::PerfectHands perfect{cover_->chosen(), cover_->hidden(), {}};
  for (const GapLeft& left : gapsLeft(cover_->proof().check, options_.hide))
    perfect.stays.push_back(left.gap->centre_mm);
  const auto say = [this](double done) { Progress{options_, 0.6, 0.25}.say(done, "simulating builds"); };
  hands::HandsSearch search(*hands_, *task_, asked_, perfect, say);
  const std::size_t by_perfect_hands = cover_->placed().size();
  if (std::vector<Problem> problems = search.search(); !problems.empty()) return problems;
  if (std::vector<Problem> problems = proveForHands(search, perfect.stays.size()); !problems.empty())
    return problems;
  if (cancelled()) return {};
  Result<scene::Scene> scene = cover_->scene();
  if (!scene) return std::move(scene.problems);
  result_.hands = hands::reportOnHands(*hands_, *scene.value, asked_, perfect.stays);
  result_.hands->costs = static_cast<int>(cover_->placed().size()) - static_cast<int>(by_perfect_hands);
  if (auto why = search.whyNotClean(*result_.hands)) result_.notes.push_back(std::move(*why));
  return {};
}

// Beside more fillers a gap that was lost may read: then it is to be hidden too.
std::vector<Problem> FillWork::proveForHands(hands::HandsSearch& search, std::size_t stay) {
  for (int round = 0; round < most_proofs_for_hands && !cancelled(); ++round) {
    Result<bool> checked = cover_->proveThese(search.chosen());
    if (!checked) return std::move(checked.problems);
    if (!*checked.value || gapsLeft(cover_->proof().check, options_.hide).size() <= stay) return {};
    search.hideToo(cover_->proof().must_hide);
  }
  return {};
}

FillResult FillWork::result() {
  CheckedPlan proof = cover_->takeProof();
  const std::vector<candidates::Candidate>& chosen = cover_->chosen();
  result_.cancelled = cancelled();
  workers_.run([&] {
    result_.left =
        leftWithReasons(*task_, proof.check, options_.hide, chosen, cover_->search().wantedBeyondStock());
  });
  if (auto note = noteOnLeafPlates(kept_.loaded.plan, result_.left))
    result_.notes.push_back(std::move(*note));
  workers_.run([&] { result_.at_least = atLeast(filling_, *task_, first_, chosen, result_.left.empty()); });
  result_.after = std::move(proof.check);
  result_.filled = std::move(proof.plan);
  result_.kept = kept_.numbers;
  workers_.run([&] { listFillers(filling_, first_, cover_->placed(), chosen, result_); });
  if (options_.progress) options_.progress(1, "done");
  return std::move(result_);
}

Result<FillResult> fillKept(const Kept& kept, const FillOptions& options) {
  Result<scene::FillerMaker> maker = scene::FillerMaker::forPlan(kept.loaded);
  if (!maker) return Result<FillResult>::failure(std::move(maker.problems));
  Result<scene::Scene> scene = scene::buildScene(kept.loaded);
  if (!scene) return Result<FillResult>::failure(std::move(scene.problems));
  FillWork work(kept, options, *scene.value, *maker.value);
  for (const auto step : {&FillWork::findWhatIsBare, &FillWork::fill, &FillWork::fillForHands})
    if (std::vector<Problem> problems = (work.*step)(); !problems.empty())
      return Result<FillResult>::failure(std::move(problems));
  return Result<FillResult>::success(work.result(), std::move(scene.warnings));
}

// The same, but for a share done that never falls: looks and proofs go over their stretch again.
FillOptions withProgressOnwards(FillOptions options) {
  if (options.progress)
    options.progress = [say = std::move(options.progress), most = 0.0](double done,
                                                                       const std::string& doing) mutable {
      most = std::max(most, done);
      say(most, doing);
    };
  return options;
}

}  // namespace

Result<FillResult> fillPlan(const plan::LoadedPlan& loaded, const FillOptions& options) {
  return fillKept(keptPlan(loaded, options.start_over), withProgressOnwards(options));
}

}  // namespace petalproof::fill
