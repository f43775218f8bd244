#include "viewer/app/advised_edits.h"

#include "engine/report/advice_words.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::app {
namespace {

constexpr std::size_t most_colours = 3;  // of boards listed: the best few, so that the panel stays short

std::string countWords(const check::ReadingCounts& counts) {
  if (counts.show == 0 && counts.faint == 0) return "no hole shows, none is faint";
  return fmt::format("{} show, {} are faint", counts.show, counts.faint);
}

AdvisedEdit ofShot(const State& state, const advice::ShotAdvice& advice) {
  const std::optional<advice::TriedChange>& best = advice.remedy ? advice.remedy : advice.best;
  if (!best) return {fmt::format("None of {} changes of the shot helps.", advice.tried), std::nullopt};
  return {fmt::format("{}: {} then.", report::changeWords(best->change, state.plan().units),
                      countWords(best->counts)),
          SetShot{state.advice->shot, best->change.shot, "as advised"}};
}

AdvisedEdit ofColour(const State& state, const advice::TriedColour& tried) {
  plan::Wall wall = state.plan().wall;
  wall.board.colour = tried.board.colour;
  return {fmt::format("Boards in {}: {} then.", tried.board.name, countWords(tried.counts)),
          SetWallDetails{wall, "board colour"}};
}

}  // namespace

std::vector<AdvisedEdit> advisedEdits(const State& state) {
  if (!state.hasPlan() || !state.advice || state.advice->shot != state.shot) return {};
  if (state.advice->revision != state.now.revision)
    return {{"What was found is of the wall as it was then.", std::nullopt}};
  const advice::Advice& advice = state.advice->advice;
  if (advice.now.show == 0) return {{"No hole shows in this shot.", std::nullopt}};
  std::vector<AdvisedEdit> edits;
  for (const advice::ShotAdvice& shot : advice.shots) edits.push_back(ofShot(state, shot));
  for (std::size_t k = 0; k < std::min(most_colours, advice.colours.size()); ++k)
    if (advice.colours[k].counts.show < advice.now.show) edits.push_back(ofColour(state, advice.colours[k]));
  return edits;
}

}  // namespace petalproof::app
