#include "engine/filler/fill.h"

#include "engine/base/threads.h"
#include "engine/filler/internal/day_list.h"
#include "engine/filler/internal/filler_colours.h"
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
  const std::vector<Colour> colours = fillerColours(chosen, filling.base.plan, filling.scene, filling.maker);
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

// Why what the check after still finds is left.
std::vector<LeftGap> leftOf(const SearchTask& task, const Check& after, Hide hide,
                            const std::vector<Candidate>& chosen) {
  std::vector<LeftGap> left;
  for (const ShotCheck& shot : after.shots)
    for (std::size_t k = 0; k < shot.found.gaps.size(); ++k) {
      const Gap& gap = shot.found.gaps[k];
      if (hide != Hide::all && (k >= shot.readings.size() || !mustHide(hide, shot.readings[k].reads)))
        continue;
      const Run& run = gap.runs[gap.runs.size() / 2];
      const auto at = boardPointOf(shot.camera, {{(run.begin + run.end) / 2.0, run.row + 0.5}});
      left.push_back({fmt::format("{}.{}", shot.shot.name, gap.number),
                      whyLeft(task, shot.camera.position.mm, at ? at->mm : gap.centre_mm, chosen)});
    }
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

Result<FillResult> fillKept(const Kept& kept, const FillOptions& options) {
  Result<FillerMaker> maker = FillerMaker::forPlan(kept.loaded);
  if (!maker) return Result<FillResult>::failure(std::move(maker.problems));
  Result<Scene> scene = buildScene(kept.loaded);
  if (!scene) return Result<FillResult>::failure(std::move(scene.problems));
  const PlaceGrid grid = placeGridOf(scene.value->panels);
  const Filling filling{kept.loaded, options, *scene.value, *maker.value, grid};

  FillResult result;
  MustHideCollector collector(grid, options.hide, kept.loaded.plan.reading);
  Result<Check> before =
      checkAndCollect(kept.loaded, *scene.value, options, {options, 0, 0.3}, collector, true);
  if (!before) return Result<FillResult>::failure(std::move(before.problems));
  result.before = std::move(*before.value);
  const MustHide first = collector.take();
  MustHide all = first;

  std::optional<Sites> sites;
  Workers workers(options.threads);
  workers.run([&] { sites.emplace(kept.loaded.plan, *scene.value, *maker.value, grid); });
  const SearchTask task{kept.loaded.plan,
                        *scene.value,
                        *maker.value,
                        *sites,
                        options.seed.value_or(kept.loaded.plan.seed),
                        [&](double done) {
                          Progress{options, 0.3, 0.4}.say(done, "placing fillers");
                        },
                        options.cancelled};
  FillerSearch search(task);
  std::vector<Candidate> chosen;
  std::vector<PlacedFiller> added;
  Proof proof;
  for (int round = 0; round < most_proofs; ++round) {
    if (!maker.value->kinds().empty() && all.pairs() > 0) workers.run([&] { chosen = search.cover(all); });
    added = placed(filling, chosen);
    Result<Proof> proved = prove(filling, added, {options, 0.7, 0.3});
    if (!proved) return Result<FillResult>::failure(std::move(proved.problems));
    proof = std::move(*proved.value);
    result.cancelled = options.cancelled && options.cancelled();
    const std::int64_t known = all.pairs();
    if (proof.still.pairs() == 0 || result.cancelled) break;
    join(all, proof.still);
    if (all.pairs() == known || !foundMore(proof.still, search.givenUp(), grid)) break;
  }
  result.left = leftOf(task, proof.after, options.hide, chosen);
  result.at_least = atLeast(filling, task, first, chosen, result.left.empty());
  result.after = std::move(proof.after);
  result.filled = std::move(proof.filled);
  result.kept = kept.numbers;
  const bool hands_matter = options.walls ? options.walls->clean > 0 : kept.loaded.plan.hands.has_value();
  if (hands_matter)
    result.notes.push_back(
        "the fillers are found for perfect hands; how many builds by real hands come out clean was not "
        "looked at");
  workers.run([&] { list(filling, first, std::move(added), chosen, result); });
  if (options.progress) options.progress(1, "done");
  return Result<FillResult>::success(std::move(result), std::move(scene.warnings));
}

}  // namespace

Result<FillResult> fillPlan(const LoadedPlan& loaded, const FillOptions& options) {
  return fillKept(keptPlan(loaded, options.start_over), options);
}

}  // namespace petalproof
