#include "engine/filler/fill.h"

#include "engine/base/threads.h"
#include "engine/filler/internal/for_hands.h"
#include "engine/filler/internal/hands_search.h"
#include "engine/filler/internal/lower_bound.h"
#include "engine/filler/internal/must_hide.h"
#include "engine/filler/internal/placed.h"
#include "engine/filler/internal/proof.h"
#include "engine/filler/internal/search.h"
#include "engine/filler/internal/why_left.h"
#include "engine/scene/filler_maker.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <optional>
#include <set>
#include <tuple>
#include <utility>

namespace petalproof {
namespace {

constexpr int most_proofs = 8;
constexpr int most_improved = 2;        // of the rounds after a check; later ones only add what still lacks
constexpr int most_quick_looks = 6;     // before each proof
constexpr int most_rough_looks = 4;     // likewise
constexpr std::size_t few_fillers = 8;  // so few changed ones rarely lay bare what a look would find
constexpr std::size_t most_close_looks = 40;  // each takes a while
constexpr int most_proofs_for_hands = 3;

struct Kept {
  LoadedPlan loaded;
  std::vector<int> numbers;  // into the given plan's fillers
};

Kept keptPlan(const LoadedPlan& given, bool start_over) {
  Kept kept{given, {}};
  kept.loaded.plan.fillers.clear();
  kept.loaded.places.fillers.clear();
  for (std::size_t k = 0; k < given.plan.fillers.size(); ++k) {
    const Filler& filler = given.plan.fillers[k];
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
int atLeast(const Filling& filling, const SearchTask& task, const MustHide& first,
            const std::vector<Candidate>& chosen, bool all_hidden) {
  if (all_hidden) return fewestFillers(first, task);
  std::vector<std::vector<Silhouette>> seen(first.eyes.size());
  for (std::size_t eye = 0; eye < seen.size(); ++eye)
    for (const Candidate& one : chosen)
      seen[eye].push_back(silhouetteOf(filling.maker, one, first.eyes[eye].at));
  return fewestFillers(first, task, [&](std::uint32_t eye, glm::dvec2 place) {
    return std::any_of(seen[eye].begin(), seen[eye].end(),
                       [&](const Silhouette& one) { return hides(one, place); });
  });
}

// How many fillers are in one of them only.
std::size_t changesBetween(const std::vector<Candidate>& one, const std::vector<Candidate>& other) {
  const auto posesOf = [](const std::vector<Candidate>& fillers) {
    std::set<std::tuple<std::size_t, int, double, double>> poses;
    for (const Candidate& filler : fillers)
      poses.emplace(filler.kind, filler.turn_deg, filler.site.from_corner_mm.x, filler.site.from_corner_mm.y);
    return poses;
  };
  const auto before = posesOf(one);
  const auto after = posesOf(other);
  const auto stayed = static_cast<std::size_t>(
      std::count_if(after.begin(), after.end(), [&](const auto& pose) { return before.count(pose) != 0; }));
  return before.size() + after.size() - 2 * stayed;
}

CleanWalls wallsAsked(const FillOptions& options, const Plan& plan) {
  if (!plan.hands) return {0, 1};
  return options.walls.value_or(CleanWalls{});
}

// One filling from what is bare to the list for the day. Everything it is made with must outlive it.
class FillWork {
 public:
  FillWork(const Kept& kept, const FillOptions& options, const Scene& scene, const FillerMaker& maker)
      : kept_(kept),
        options_(options),
        grid_(placeGridOf(scene.panels)),
        filling_{kept.loaded, options, scene, maker, grid_},
        workers_(options.threads),
        checker_(kept.loaded, scene, options.threads, options.hide != Hide::all || options.readings),
        progress_{options, 0.3, wallsAsked(options, kept.loaded.plan).clean > 0 ? 0.15 : 0.4} {
    workers_.run([&] { sites_.emplace(kept.loaded.plan, scene, maker, grid_); });
    task_.emplace(SearchTask{kept.loaded.plan, scene, maker, *sites_,
                             options.seed.value_or(kept.loaded.plan.seed),
                             [this](double done) { progress_.say(done, doing_); }, options.cancelled});
    search_.emplace(*task_);
  }

  // Problems: as of fillPlan. Until there are any, one after the other.
  std::vector<Problem> findWhatIsBare();
  void fill();
  std::vector<Problem> fillInRoughLight();
  std::vector<Problem> prove();
  std::vector<Problem> fillForHands();
  FillResult result();

 private:
  bool cancelled() const { return options_.cancelled && options_.cancelled(); }
  using Again = FillerSearch::Again;
  void cover(Again again = Again::add);
  void coverWhatIsSeen();
  using LookedAt = std::tuple<std::ptrdiff_t, int, int>;  // shot, and where in squares of 8 mm
  struct Lacking {
    glm::dvec3 eye{0};
    glm::dvec2 place{0};
    LookedAt key;
  };
  std::vector<Lacking> lacking() const;
  bool suggestForWhatIsLeft();
  bool learn();
  bool coverWhatIsLeft(Again again);
  std::size_t coverMore();
  std::vector<Problem> settleInRoughLight();
  Progress progressOfProof(Lighting lighting) const;
  std::vector<Problem> checkFilled(Lighting lighting);
  std::vector<Problem> proveForHands(HandsSearch& search, std::size_t stay);
  Result<Scene> filledScene() const { return buildScene(filledPlan(filling_.base, added_)); }

  const Kept& kept_;
  const FillOptions& options_;
  PlaceGrid grid_;
  Filling filling_;
  Workers workers_;
  ShotChecker checker_;
  std::optional<Sites> sites_;
  std::optional<SearchTask> task_;
  std::optional<FillerSearch> search_;
  FillResult result_;
  MustHide first_;  // as the plan is given
  std::vector<PixelMask> bare_before_;
  MustHide all_;
  std::vector<Candidate> chosen_;
  std::vector<PlacedFiller> added_;
  CheckedPlan proof_;
  std::optional<HandsTask> hands_;  // where they aren't perfect
  std::set<LookedAt> looked_in_vain_;
  int improved_ = 0;
  Progress progress_;  // of the step that is being done
  const char* doing_ = "placing fillers";
};

std::vector<Problem> FillWork::findWhatIsBare() {
  const auto say = [this](double done, const std::string& doing) {
    Progress{options_, 0, 0.3}.say(done, doing);
  };
  Result<CheckedPlan> before =
      checkPlan(filling_, kept_.loaded, filling_.scene, {true, Lighting::full, say}, checker_);
  if (!before) return std::move(before.problems);
  result_.before = std::move(before.value->check);
  for (const ShotCheck& shot : result_.before.shots) filling_.cameras.push_back(shot.camera);
  first_ = std::move(before.value->must_hide);
  bare_before_ = std::move(before.value->bare);
  all_ = first_;
  return {};
}

void FillWork::cover(Again again) {
  if (!filling_.maker.kinds().empty() && all_.pairs() > 0)
    workers_.run([&] { chosen_ = search_->cover(all_, again); });
  added_ = placed(filling_, chosen_);
}

// A proof takes long; most of what it would find is seen at a glance.
void FillWork::coverWhatIsSeen() {
  const QuickLook look(filling_, result_.before.shots, bare_before_);
  for (int k = 0; k < most_quick_looks && !cancelled(); ++k) {
    const std::int64_t known = all_.pairs();
    join(all_, look.see(chosen_));
    if (all_.pairs() == known) break;
    cover();
  }
}

Progress FillWork::progressOfProof(Lighting lighting) const {
  const bool is_rough = lighting == Lighting::rough;
  if (hands_) return {options_, 0.85, 0.15};
  if (wallsAsked(options_, kept_.loaded.plan).clean > 0)
    return is_rough ? Progress{options_, 0.45, 0.05} : Progress{options_, 0.5, 0.1};
  return is_rough ? Progress{options_, 0.7, 0.1} : Progress{options_, 0.8, 0.2};
}

std::vector<Problem> FillWork::checkFilled(Lighting lighting) {
  Result<Scene> scene = filledScene();
  if (!scene) return std::move(scene.problems);
  const auto say = [this, lighting](double done, const std::string& doing) {
    progressOfProof(lighting).say(done, doing);
  };
  Result<CheckedPlan> proved =
      checkPlan(filling_, filledPlan(filling_.base, added_), *scene.value, {false, lighting, say}, checker_);
  if (!proved) return std::move(proved.problems);
  proof_ = std::move(*proved.value);
  return {};
}

// The gaps that the last check found, that the search can't hide, and that no close look was in vain for.
std::vector<FillWork::Lacking> FillWork::lacking() const {
  constexpr double block_mm = 8;
  const GivenUp given_up(search_->givenUp());
  std::vector<Lacking> lacking;
  for (const GapLeft& left : gapsLeft(proof_.check, options_.hide)) {
    const glm::dvec2 at = placeIn(*left.gap, left.shot->camera);
    const LookedAt key{left.shot - proof_.check.shots.data(), static_cast<int>(std::floor(at.x / block_mm)),
                       static_cast<int>(std::floor(at.y / block_mm))};
    if (given_up.isNear(at) && looked_in_vain_.count(key) == 0)
      lacking.push_back({left.shot->camera.position.mm, at, key});
  }
  return lacking;
}

// True if a close look around what the search can't hide finds fillers that it has not.
bool FillWork::suggestForWhatIsLeft() {
  std::vector<Proposal> proposals;
  const std::vector<Lacking> gaps = lacking();
  for (std::size_t from = 0; from < gaps.size() && proposals.empty() && !cancelled();
       from += most_close_looks) {
    std::vector<std::optional<Proposal>> found(std::min(most_close_looks, gaps.size() - from));
    workers_.run([&] {
      forEach(found.size(), [&](std::size_t k) {
        found[k] = fillerThatFits(*task_, gaps[from + k].eye, gaps[from + k].place, chosen_);
      });
    });
    for (std::size_t k = 0; k < found.size(); ++k)
      if (found[k])
        proposals.push_back(*found[k]);
      else
        looked_in_vain_.insert(gaps[from + k].key);
  }
  workers_.run([&] { search_->suggest(proposals); });
  return !proposals.empty();
}

// Takes up what the last check found. True if there is more to cover.
bool FillWork::learn() {
  if (proof_.must_hide.pairs() == 0 || cancelled()) return false;
  const bool is_new = foundMore(proof_.must_hide, GivenUp(search_->givenUp()), grid_);
  if (is_new || suggestForWhatIsLeft())
    return coverWhatIsLeft(improved_++ < most_improved ? Again::improve : Again::add);
  // A last look at all that is left: among the fillers that there are now one may fit that didn't before.
  if (looked_in_vain_.empty()) return false;
  looked_in_vain_.clear();
  return suggestForWhatIsLeft() && coverWhatIsLeft(Again::add);
}

// False, and nothing is changed, where the cover found leaves as much of what the last check found.
bool FillWork::coverWhatIsLeft(Again again) {
  const std::int64_t known = all_.pairs();
  const auto checked = std::pair(chosen_, added_);
  std::int64_t bare = std::ssize(search_->givenUp());  // beside what was checked
  join(all_, proof_.must_hide);
  bare += all_.pairs() - known;
  cover(again);
  if (suggestForWhatIsLeft()) return true;
  if (all_.pairs() != known && foundMore(proof_.must_hide, GivenUp(search_->givenUp()), grid_)) return true;
  if (std::ssize(search_->givenUp()) < bare) return true;
  std::tie(chosen_, added_) = checked;  // another cover, which leaves as much
  return false;
}

void FillWork::fill() {
  cover();
  if (!added_.empty()) coverWhatIsSeen();
}

// Takes up what the last check found, and what that lays bare. How many fillers change.
std::size_t FillWork::coverMore() {
  const auto looked_at = std::pair(chosen_, added_);
  if (!learn()) return 0;
  fill();
  const std::size_t changes = changesBetween(looked_at.first, chosen_);
  if (changes == 0) std::tie(chosen_, added_) = looked_at;  // in another order at most
  return changes;
}

// Most of what a proof would find shows in rough light too, in a third of the time; on a large wall it takes
// several looks until nothing more comes up.
std::vector<Problem> FillWork::settleInRoughLight() {
  if (added_.empty() || options_.hide == Hide::all) return {};
  for (int look = 0; look < most_rough_looks && !cancelled(); ++look) {
    if (std::vector<Problem> problems = checkFilled(Lighting::rough); !problems.empty()) return problems;
    if (coverMore() <= few_fillers) break;
  }
  return {};
}

std::vector<Problem> FillWork::fillInRoughLight() {
  fill();
  return settleInRoughLight();
}

std::vector<Problem> FillWork::prove() {
  for (int round = 1;; ++round) {
    if (std::vector<Problem> problems = checkFilled(Lighting::full); !problems.empty()) return problems;
    if (round == most_proofs) return {};
    const std::size_t changes = coverMore();
    if (changes == 0) return {};
    if (changes <= few_fillers) continue;
    if (std::vector<Problem> problems = settleInRoughLight(); !problems.empty()) return problems;
  }
}

std::vector<Problem> FillWork::fillForHands() {
  const CleanWalls asked = wallsAsked(options_, kept_.loaded.plan);
  if (!kept_.loaded.plan.hands && options_.walls && options_.walls->clean > 0)
    result_.notes.push_back("the plan has no [hands], so hands are taken to be perfect");
  if (asked.clean == 0 || cancelled()) return {};
  const Plan& plan = kept_.loaded.plan;
  hands_.emplace(HandsTask{kept_.loaded, filling_.scene, result_.before.shots,
                           handErrorsOf(*plan.hands, plan.units), options_.hide, task_->seed,
                           options_.threads, options_.cancelled});
  PerfectHands perfect{chosen_, all_, {}};
  for (const GapLeft& left : gapsLeft(proof_.check, options_.hide))
    perfect.stays.push_back(left.gap->centre_mm);
  const auto say = [this](double done) { Progress{options_, 0.6, 0.25}.say(done, "simulating builds"); };
  HandsSearch search(*hands_, *task_, asked, perfect, say);
  const std::size_t by_perfect_hands = added_.size();
  if (std::vector<Problem> problems = search.search(); !problems.empty()) return problems;
  if (std::vector<Problem> problems = proveForHands(search, perfect.stays.size()); !problems.empty())
    return problems;
  if (cancelled()) return {};
  Result<Scene> scene = filledScene();
  if (!scene) return std::move(scene.problems);
  result_.hands = reportOnHands(*hands_, *scene.value, asked, perfect.stays);
  result_.hands->costs = static_cast<int>(added_.size()) - static_cast<int>(by_perfect_hands);
  if (auto why = search.whyNotClean(*result_.hands)) result_.notes.push_back(std::move(*why));
  return {};
}

// Beside more fillers a gap that was lost may read: then it is to be hidden too.
std::vector<Problem> FillWork::proveForHands(HandsSearch& search, std::size_t stay) {
  for (int round = 0; round < most_proofs_for_hands && !cancelled(); ++round) {
    chosen_ = search.chosen();
    added_ = placed(filling_, chosen_);
    if (filledPlan(filling_.base, added_).plan == proof_.plan.plan) return {};
    if (std::vector<Problem> problems = checkFilled(Lighting::full); !problems.empty()) return problems;
    if (gapsLeft(proof_.check, options_.hide).size() <= stay) return {};
    search.hideToo(proof_.must_hide);
  }
  return {};
}

FillResult FillWork::result() {
  result_.cancelled = cancelled();
  workers_.run([&] {
    result_.left =
        leftWithReasons(*task_, proof_.check, options_.hide, chosen_, search_->wantedBeyondStock());
  });
  if (auto note = noteOnLeafPlates(kept_.loaded.plan, result_.left))
    result_.notes.push_back(std::move(*note));
  workers_.run([&] { result_.at_least = atLeast(filling_, *task_, first_, chosen_, result_.left.empty()); });
  result_.after = std::move(proof_.check);
  result_.filled = std::move(proof_.plan);
  result_.kept = kept_.numbers;
  workers_.run([&] { listFillers(filling_, first_, std::move(added_), chosen_, result_); });
  if (options_.progress) options_.progress(1, "done");
  return std::move(result_);
}

Result<FillResult> fillKept(const Kept& kept, const FillOptions& options) {
  Result<FillerMaker> maker = FillerMaker::forPlan(kept.loaded);
  if (!maker) return Result<FillResult>::failure(std::move(maker.problems));
  Result<Scene> scene = buildScene(kept.loaded);
  if (!scene) return Result<FillResult>::failure(std::move(scene.problems));
  FillWork work(kept, options, *scene.value, *maker.value);
  for (const auto step :
       {&FillWork::findWhatIsBare, &FillWork::fillInRoughLight, &FillWork::prove, &FillWork::fillForHands})
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

Result<FillResult> fillPlan(const LoadedPlan& loaded, const FillOptions& options) {
  return fillKept(keptPlan(loaded, options.start_over), withProgressOnwards(options));
}

}  // namespace petalproof
