#include "viewer/app/state.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <tuple>

namespace petalproof::app {
namespace {

const ShotResult* resultOf(const State& state, int shot) {
  if (shot < 0 || static_cast<std::size_t>(shot) >= state.live.shots.size()) return nullptr;
  return &state.live.shots[static_cast<std::size_t>(shot)];
}

// Worst first; gaps that aren't read after those that are, the largest first.
auto rankOf(const State& state, const GapRef& ref) {
  const reading::Reading* const reading = readingOf(state, ref);
  const gaps::Gap& gap = *gapOf(state, ref);
  return std::tuple(reading ? static_cast<int>(reading->reads) : -1,
                    reading ? reading->odder_than * reading->looks.area_arcmin2 : 0.0, gap.area_mm2,
                    -gap.number);
}

}  // namespace

bool isCurrent(const State& state, int shot) {
  const ShotResult* const result = resultOf(state, shot);
  return result && result->check && result->revision == state.now.revision;
}

bool movesWithChosen(const State& state, const BloomRef& ref) {
  const auto& chosen = state.selection.blooms;
  if (chosen.empty() || !state.hasPlan()) return false;
  if (ref.isFiller()) return std::find(chosen.begin(), chosen.end(), ref) != chosen.end();
  const Grid<plan::Cell>& grid = state.plan().wall.grid;
  const auto layoutOf = [&](const BloomRef& bloom) -> const std::string* {
    const bool is_on_grid =
        bloom.column >= 0 && bloom.row >= 0 && bloom.column < grid.columns() && bloom.row < grid.rows();
    return is_on_grid ? &grid.at(bloom.column, bloom.row).layout : nullptr;
  };
  const std::string* const layout = layoutOf(ref);
  return layout && std::any_of(chosen.begin(), chosen.end(), [&](const BloomRef& bloom) {
           const std::string* const chosen_layout = layoutOf(bloom);
           return bloom.index == ref.index && chosen_layout && *chosen_layout == *layout;
         });
}

bool seesNoWall(const ShotResult& result) {
  return result.check && result.full && visibility::seesNoWall(result.check->shares);
}

const gaps::Gap* gapOf(const State& state, const GapRef& ref) {
  const ShotResult* const result = resultOf(state, ref.shot);
  if (!result || !result->check || ref.number < 1) return nullptr;
  const auto& holes = result->check->found.holes;
  const auto index = static_cast<std::size_t>(ref.number - 1);
  return index < holes.size() ? &holes[index].whole : nullptr;
}

const reading::Reading* readingOf(const State& state, const GapRef& ref) {
  const ShotResult* const result = resultOf(state, ref.shot);
  if (!result || !result->check || ref.number < 1) return nullptr;
  const auto& readings = result->check->readings;
  const auto index = static_cast<std::size_t>(ref.number - 1);
  return index < readings.size() ? &readings[index] : nullptr;
}

std::optional<GapRef> sameGapIn(const check::ShotCheck& after, const GapRef& ref,
                                const check::ShotCheck& before) {
  const auto index = static_cast<std::size_t>(ref.number - 1);
  if (ref.number < 1 || index >= before.found.holes.size()) return std::nullopt;
  const gaps::Gap& gap = before.found.holes[index].whole;
  constexpr double hardly_moved_mm = 25;
  double least = std::max(hardly_moved_mm, gap.length_mm / 2);
  std::optional<GapRef> same;
  for (const gaps::Hole& candidate : after.found.holes) {
    const gaps::Gap& other = candidate.whole;
    const double away = glm::distance(gap.centre_mm, other.centre_mm);
    if (!(gap.owner == other.owner) || away > least) continue;
    least = away;
    same = GapRef{ref.shot, other.number};
  }
  return same;
}

bool isListed(const State& state, const GapRef& ref) {
  const reading::Reading* const reading = readingOf(state, ref);
  if (!reading) return state.view.shows;
  switch (reading->reads) {
    case reading::Reads::shows: return state.view.shows;
    case reading::Reads::faint: return state.view.faint;
    case reading::Reads::lost: return state.view.lost;
  }
  return false;
}

std::vector<GapRef> listedGaps(const State& state, int shot) {
  std::vector<GapRef> listed;
  const ShotResult* const result = resultOf(state, shot);
  if (!result || !result->check) return listed;
  for (const gaps::Hole& hole : result->check->found.holes)
    if (isListed(state, {shot, hole.whole.number})) listed.push_back({shot, hole.whole.number});
  std::sort(listed.begin(), listed.end(),
            [&](const GapRef& a, const GapRef& b) { return rankOf(state, a) > rankOf(state, b); });
  return listed;
}

}  // namespace petalproof::app
