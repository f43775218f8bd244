// What the state says of fillers.

#include "viewer/app/state.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace petalproof::app {
namespace {

int kindOf(const Plan& plan, const std::string& name) {
  const auto is = [&](const Bloom& bloom) { return bloom.name == name; };
  return static_cast<int>(std::find_if(plan.blooms.begin(), plan.blooms.end(), is) - plan.blooms.begin());
}

int spareOf(const State& state, int kind, Colour colour) {
  if (!state.filled) return 0;
  for (const FillerTotal& total : state.filled->totals)
    if (total.kind == kind && total.colour == colour) return total.spare;
  return 0;
}

}  // namespace

const FillerNote* noteOf(const State& state, const Filler& filler) {
  if (!state.filled) return nullptr;
  const auto& placed = state.filled->placed;
  const auto found = std::find_if(placed.begin(), placed.end(), [&](const FillerNote& note) {
    return note.at == filler.placement.at && note.bloom == filler.placement.bloom;
  });
  return found == placed.end() ? nullptr : &*found;
}

bool glows(const State& state, int filler) {
  if (!state.filled || !state.filled->glow || !state.hasPlan()) return false;
  const auto& fillers = state.plan().fillers;
  const auto index = static_cast<std::size_t>(filler);
  return filler >= 0 && index < fillers.size() && noteOf(state, fillers[index]) != nullptr;
}

std::vector<FillerTotal> fillersToCut(const State& state) {
  if (!state.hasPlan()) return {};
  const Plan& plan = state.plan();
  std::map<std::tuple<int, int, int, int>, FillerTotal> totals;
  for (const Filler& filler : plan.fillers) {
    const int kind = kindOf(plan, filler.placement.bloom);
    const Bloom& bloom = plan.blooms[static_cast<std::size_t>(kind)];
    const Colour colour = filler.placement.colour.value_or(bloom.colours.front());
    FillerTotal& total = totals[{kind, colour.red, colour.green, colour.blue}];
    total.kind = kind;
    total.colour = colour;
    total.spare = spareOf(state, kind, colour);
    ++total.count;
  }
  std::vector<FillerTotal> list;
  for (const auto& [key, total] : totals) list.push_back(total);
  return list;
}

}  // namespace petalproof::app
