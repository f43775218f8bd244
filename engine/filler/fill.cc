#include "engine/filler/fill.h"

#include "engine/base/threads.h"
#include "engine/filler/internal/day_list.h"
#include "engine/filler/internal/filler_colours.h"
#include "engine/filler/internal/for_hands.h"
#include "engine/filler/internal/lower_bound.h"
#include "engine/filler/internal/must_hide.h"
#include "engine/filler/internal/search.h"
#include "engine/filler/internal/why_left.h"
#include "engine/scene/filler_maker.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

namespace petalproof {
namespace {

constexpr int most_proofs = 4;
constexpr std::size_t most_close_looks = 40;  // each takes a while
constexpr int builds_to_train = 40;
constexpr int most_trainings = 6;
// At first some builds without any filler, coarsely; then what is left, closely.
constexpr int first_look_builds = 8;
constexpr double first_look_apart_mm = 16;
constexpr double look_apart_mm = 4;
constexpr double given_up_mm = 16;  // round a place that nothing hides

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

Result<Check> checkAndCollect(const LoadedPlan& loaded, const Scene& scene, const FillOptions& options,
                              const Progress& progress, MustHideCollector& collector, bool rim) {
  CheckOptions check;
  check.shots = options.shots;
  check.threads = options.threads;
  check.readings = options.hide != Hide::all || options.readings;
  check.progress = [&](double done, const std::string& doing) { progress.say(done, doing); };
  check.on_shot = [&](const ShotCheck& shot, const VisibilityBuffer& seen) {
    collector.add(shot, seen, scene.panels, rim);
  };
  return runCheck(loaded, scene, check);
}

struct Filling {
  const LoadedPlan& base;  // with the fillers that stay
  const FillOptions& options;
  const Scene& scene;
  const FillerMaker& maker;
  const PlaceGrid& grid;
  std::vector<Camera> cameras = {};  // of the shots, once they are known
};

PlacedFiller placedFrom(const Filling& filling, const Candidate& one, Colour colour) {
  const FillerKind& kind = filling.maker.kinds()[one.kind];
  PlacedFiller placed;
  placed.kind = kind.kind;
  placed.colour = colour;
  placed.at = {one.site.board_mm};
  placed.filler.placement.bloom = filling.base.plan.blooms[static_cast<std::size_t>(kind.kind)].name;
  placed.filler.placement.at = one.site.at;
  placed.filler.placement.turn_deg = one.turn_deg;
  placed.filler.placement.colour = colour;
  sayWhere(placed, filling.base.plan, filling.scene.panels, kind.plate_mm);
  return placed;
}

// Chosen fillers with their colours, in the order of hanging; `chosen` is brought into that order.
std::vector<PlacedFiller> placed(const Filling& filling, std::vector<Candidate>& chosen) {
  const std::vector<Colour> colours = fillerColours(
      chosen, {filling.base.plan, filling.scene, filling.maker, filling.cameras, filling.options.threads});
  std::vector<std::pair<PlacedFiller, Candidate>> both;
  for (std::size_t k = 0; k < chosen.size(); ++k)
    both.emplace_back(placedFrom(filling, chosen[k], colours[k]), chosen[k]);
  std::sort(both.begin(), both.end(),
            [](const auto& a, const auto& b) { return hungBefore(a.first, b.first); });
  std::vector<PlacedFiller> list;
  chosen.clear();
  for (auto& [filler, candidate] : both) {
    list.push_back(std::move(filler));
    chosen.push_back(std::move(candidate));
  }
  return list;
}

LoadedPlan filledPlan(const LoadedPlan& base, const std::vector<PlacedFiller>& added) {
  LoadedPlan filled = base;
  for (const PlacedFiller& one : added) filled.plan.fillers.push_back(one.filler);
  return filled;
}

std::vector<PlacedFiller> oldFillers(const Filling& filling) {
  std::vector<PlacedFiller> old;
  for (const BloomInstance& bloom : filling.scene.blooms) {
    if (bloom.panel_column >= 0) continue;
    PlacedFiller one;
    one.filler = filling.base.plan.fillers[static_cast<std::size_t>(bloom.index)];
    one.kind = bloom.kind;
    one.colour = bloom.colour;
    one.at = {bloom.at_mm};
    one.raised_mm = bloom.raised_mm;
    one.old = true;
    sayWhere(one, filling.base.plan, filling.scene.panels, bloom.plate_mm);
    old.push_back(std::move(one));
  }
  return old;
}

// A place of a gap, in the middle of its middle row.
glm::dvec2 placeIn(const Gap& gap, const Camera& camera) {
  const Run& run = gap.runs[gap.runs.size() / 2];
  const auto at = boardPointOf(camera, {{(run.begin + run.end) / 2.0, run.row + 0.5}});
  return at ? at->mm : gap.centre_mm;
}

struct GapLeft {
  const ShotCheck* shot = nullptr;
  const Gap* gap = nullptr;
};

// What the check after still finds.
std::vector<GapLeft> gapsLeft(const Check& after, Hide hide) {
  std::vector<GapLeft> left;
  for (const ShotCheck& shot : after.shots)
    for (std::size_t k = 0; k < shot.found.gaps.size(); ++k)
      if (hide == Hide::all || (k < shot.readings.size() && mustHide(hide, shot.readings[k].reads)))
        left.push_back({&shot, &shot.found.gaps[k]});
  return left;
}

// Why that is left. Call within Workers::run.
std::vector<LeftGap> leftOf(const SearchTask& task, const Check& after, Hide hide,
                            const std::vector<Candidate>& chosen, const std::vector<int>& wanted) {
  const std::vector<GapLeft> gaps = gapsLeft(after, hide);
  std::vector<LeftGap> left(gaps.size());
  forEach(gaps.size(), [&](std::size_t k) {
    const auto& [shot, gap] = gaps[k];
    left[k] = {fmt::format("{}.{}", shot->shot.name, gap->number),
               whyLeft(task, shot->camera.position.mm, placeIn(*gap, shot->camera), chosen, wanted)};
  });
  return left;
}

struct Proof {
  LoadedPlan filled;
  Check after;
  MustHide still;
};

Result<Proof> prove(const Filling& filling, const std::vector<PlacedFiller>& added,
                    const Progress& progress) {
  Proof proof;
  proof.filled = filledPlan(filling.base, added);
  Result<Scene> scene = buildScene(proof.filled);
  if (!scene) return Result<Proof>::failure(std::move(scene.problems));
  MustHideCollector collector(filling.grid, filling.options.hide, filling.base.plan.reading);
  Result<Check> check =
      checkAndCollect(proof.filled, *scene.value, filling.options, progress, collector, false);
  if (!check) return Result<Proof>::failure(std::move(check.problems));
  proof.after = std::move(*check.value);
  proof.still = collector.take();
  return Result<Proof>::success(std::move(proof));
}

using Block = std::pair<int, int>;
Block blockOf(glm::dvec2 place) {
  return {static_cast<int>(std::floor(place.x / given_up_mm)),
          static_cast<int>(std::floor(place.y / given_up_mm))};
}

// Whether the check found more than what the search could not hide anyway.
bool foundMore(const MustHide& still, const std::vector<glm::dvec2>& given_up, const PlaceGrid& grid) {
  std::set<Block> blocks;
  for (const glm::dvec2& place : given_up) {
    const Block middle = blockOf(place);
    for (int row = -1; row <= 1; ++row)
      for (int column = -1; column <= 1; ++column) blocks.emplace(middle.first + column, middle.second + row);
  }
  const auto fresh = [&](glm::dvec2 place) { return blocks.count(blockOf(place)) == 0; };
  for (const Eye& eye : still.eyes) {
    if (std::any_of(eye.others.begin(), eye.others.end(), fresh)) return true;
    for (int row = 0; row < eye.places.rows; ++row)
      for (int column = 0; column < eye.places.columns; ++column)
        if (eye.places.has(column, row) && fresh({grid.x.at(column), grid.y.at(row)})) return true;
  }
  return false;
}

void list(const Filling& filling, const MustHide& first, std::vector<PlacedFiller> added,
          const std::vector<Candidate>& chosen, FillResult& result) {
  rankFillers(added, chosen, filling.maker, filling.grid, first, result.before);
  result.count = static_cast<int>(added.size());
  result.totals = totalsOf(added, filling.base.plan, filling.options);
  const std::size_t kept = filling.base.plan.fillers.size();
  for (std::size_t k = 0; k < added.size(); ++k) result.added.push_back(static_cast<int>(kept + k));
  std::vector<PlacedFiller> all = oldFillers(filling);
  for (PlacedFiller& one : all) one.rank = 0;
  all.insert(all.end(), std::make_move_iterator(added.begin()), std::make_move_iterator(added.end()));
  std::stable_sort(all.begin(), all.end(), hungBefore);
  result.fillers = std::move(all);
}

// For what the answer hides: where some gaps are left, a placement need not hide them either.
int atLeast(const Filling& filling, const SearchTask& task, const MustHide& first,
            const std::vector<Candidate>& chosen, bool all_hidden) {
  if (all_hidden) return fewestFillers(first, filling.maker, filling.grid, task.seed);
  std::vector<std::vector<Silhouette>> seen(first.eyes.size());
  for (std::size_t eye = 0; eye < seen.size(); ++eye)
    for (const Candidate& one : chosen)
      seen[eye].push_back(silhouetteOf(filling.maker, one, first.eyes[eye].at));
  return fewestFillers(first, filling.maker, filling.grid, task.seed,
                       [&](std::uint32_t eye, glm::dvec2 place) {
                         return std::any_of(seen[eye].begin(), seen[eye].end(),
                                            [&](const Silhouette& one) { return hides(one, place); });
                       });
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
        workers_(options.threads) {
    workers_.run([&] { sites_.emplace(kept.loaded.plan, scene, maker, grid_); });
    task_.emplace(SearchTask{kept.loaded.plan, scene, maker, *sites_,
                             options.seed.value_or(kept.loaded.plan.seed),
                             [this](double done) {
                               Progress{options_, 0.3, 0.4}.say(done, "placing fillers");
                             },
                             options.cancelled});
    search_.emplace(*task_);
  }

  // Problems: as of fillPlan. Until there are any, one after the other.
  std::vector<Problem> findWhatIsBare();
  std::vector<Problem> fillAndProve();
  std::vector<Problem> fillForHands();
  FillResult result();

 private:
  bool cancelled() const { return options_.cancelled && options_.cancelled(); }
  void cover(bool anew = false);
  bool suggestForWhatIsLeft();
  std::vector<Problem> proveAgain();
  Result<Scene> filledScene() const { return buildScene(filledPlan(filling_.base, added_)); }

  const Kept& kept_;
  const FillOptions& options_;
  PlaceGrid grid_;
  Filling filling_;
  Workers workers_;
  std::optional<Sites> sites_;
  std::optional<SearchTask> task_;
  std::optional<FillerSearch> search_;
  FillResult result_;
  MustHide first_;  // as the plan is given
  MustHide all_;
  std::vector<Candidate> chosen_;
  std::vector<PlacedFiller> added_;
  Proof proof_;
  std::optional<HandsTraining> training_;
};

std::vector<Problem> FillWork::findWhatIsBare() {
  MustHideCollector collector(grid_, options_.hide, kept_.loaded.plan.reading);
  Result<Check> before =
      checkAndCollect(kept_.loaded, filling_.scene, options_, {options_, 0, 0.3}, collector, true);
  if (!before) return std::move(before.problems);
  result_.before = std::move(*before.value);
  for (const ShotCheck& shot : result_.before.shots) filling_.cameras.push_back(shot.camera);
  first_ = collector.take();
  all_ = first_;
  return {};
}

void FillWork::cover(bool anew) {
  if (!filling_.maker.kinds().empty() && all_.pairs() > 0)
    workers_.run([&] { chosen_ = search_->cover(all_, anew); });
  added_ = placed(filling_, chosen_);
}

std::vector<Problem> FillWork::proveAgain() {
  Result<Proof> proved = prove(filling_, added_, {options_, 0.7, 0.3});
  if (!proved) return std::move(proved.problems);
  proof_ = std::move(*proved.value);
  return {};
}

// True if a close look around some of what is left finds fillers that the search has not.
bool FillWork::suggestForWhatIsLeft() {
  std::vector<GapLeft> gaps = gapsLeft(proof_.after, options_.hide);
  gaps.resize(std::min(gaps.size(), most_close_looks));
  std::vector<std::optional<Proposal>> found(gaps.size());
  std::vector<Proposal> proposals;
  workers_.run([&] {
    forEach(gaps.size(), [&](std::size_t k) {
      const auto& [shot, gap] = gaps[k];
      found[k] = fillerThatFits(*task_, shot->camera.position.mm, placeIn(*gap, shot->camera), chosen_);
    });
    for (const auto& one : found)
      if (one) proposals.push_back(*one);
    search_->suggest(proposals);
  });
  return !proposals.empty();
}

std::vector<Problem> FillWork::fillAndProve() {
  for (int round = 0; round < most_proofs; ++round) {
    cover();
    std::vector<Problem> problems = proveAgain();
    if (!problems.empty()) return problems;
    const std::int64_t known = all_.pairs();
    if (proof_.still.pairs() == 0 || cancelled()) break;
    join(all_, proof_.still);
    const bool suggested = suggestForWhatIsLeft();
    if (!suggested && (all_.pairs() == known || !foundMore(proof_.still, search_->givenUp(), grid_))) break;
  }
  return {};
}

// Goes on with builds in which something shows, until enough of them are clean or nothing more can be added.
std::vector<Problem> FillWork::fillForHands() {
  const CleanWalls asked = wallsAsked(options_, kept_.loaded.plan);
  if (!kept_.loaded.plan.hands && options_.walls && options_.walls->clean > 0)
    result_.notes.push_back("the plan has no [hands], so hands are taken to be perfect");
  if (asked.clean == 0 || cancelled()) return {};
  const Plan& plan = kept_.loaded.plan;
  const HandsTask task{
      plan,          filling_.scene, result_.before.shots, handErrorsOf(*plan.hands, plan.units),
      options_.hide, task_->seed,    options_.threads,     options_.cancelled};
  training_.emplace(task, builds_to_train);
  training_->extend(filling_.scene, {first_look_builds, first_look_apart_mm}, all_);
  cover(true);
  const std::size_t by_perfect_hands = added_.size();
  Result<Scene> scene = filledScene();
  for (int round = 0; scene && round < most_trainings && !cancelled(); ++round) {
    Progress{options_, 0.7, 0.3}.say(static_cast<double>(round) / most_trainings, "simulating builds");
    const std::int64_t known = all_.pairs();
    const int clean = training_->extend(*scene.value, {builds_to_train, look_apart_mm}, all_);
    // As many as asked, and some more: these builds are known, others aren't.
    if (clean * asked.of >= builds_to_train * asked.clean + asked.of) break;
    if (all_.pairs() == known) break;
    cover(true);
    scene = filledScene();
  }
  if (!scene) return std::move(scene.problems);
  if (std::vector<Problem> problems = fillAndProve(); !problems.empty()) return problems;
  scene = filledScene();
  result_.hands = reportOnHands(task, *scene.value, asked);
  result_.hands->costs = static_cast<int>(added_.size()) - static_cast<int>(by_perfect_hands);
  return {};
}

FillResult FillWork::result() {
  result_.cancelled = cancelled();
  workers_.run([&] {
    result_.left = leftOf(*task_, proof_.after, options_.hide, chosen_, search_->wantedBeyondStock());
  });
  result_.at_least = atLeast(filling_, *task_, first_, chosen_, result_.left.empty());
  result_.after = std::move(proof_.after);
  result_.filled = std::move(proof_.filled);
  result_.kept = kept_.numbers;
  workers_.run([&] { list(filling_, first_, std::move(added_), chosen_, result_); });
  if (options_.progress) options_.progress(1, "done");
  return std::move(result_);
}

Result<FillResult> fillKept(const Kept& kept, const FillOptions& options) {
  Result<FillerMaker> maker = FillerMaker::forPlan(kept.loaded);
  if (!maker) return Result<FillResult>::failure(std::move(maker.problems));
  Result<Scene> scene = buildScene(kept.loaded);
  if (!scene) return Result<FillResult>::failure(std::move(scene.problems));
  FillWork work(kept, options, *scene.value, *maker.value);
  for (const auto step : {&FillWork::findWhatIsBare, &FillWork::fillAndProve, &FillWork::fillForHands})
    if (std::vector<Problem> problems = (work.*step)(); !problems.empty())
      return Result<FillResult>::failure(std::move(problems));
  return Result<FillResult>::success(work.result(), std::move(scene.warnings));
}

}  // namespace

Result<FillResult> fillPlan(const LoadedPlan& loaded, const FillOptions& options) {
  return fillKept(keptPlan(loaded, options.start_over), options);
}

}  // namespace petalproof
