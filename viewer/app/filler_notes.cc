#include "viewer/app/filler_notes.h"

#include "viewer/app/shot_edits.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <map>
#include <tuple>
#include <utility>

namespace petalproof::app {
namespace {

int kindOf(const plan::Plan& plan, const std::string& name) {
  const auto is = [&](const plan::Bloom& bloom) { return bloom.name == name; };
  return static_cast<int>(std::find_if(plan.blooms.begin(), plan.blooms.end(), is) - plan.blooms.begin());
}

// "couple" of "couple.6". A shot's name may itself have dots.
std::string shotOfId(const std::string& id) { return id.substr(0, id.rfind('.')); }

int spareOf(const State& state, int kind, Colour colour) {
  if (!state.filled) return 0;
  for (const fill::FillerTotal& total : state.filled->totals)
    if (total.kind == kind && total.colour == colour) return total.spare;
  return 0;
}

}  // namespace

std::optional<GapRef> gapOfId(const State& state, const std::string& id) {
  const std::size_t dot = id.rfind('.');
  if (!state.hasPlan() || dot == std::string::npos) return std::nullopt;
  int number = 0;
  std::from_chars(id.data() + dot + 1, id.data() + id.size(), number);
  const std::vector<plan::Shot> shots = shotsOf(state.plan());
  for (std::size_t k = 0; k < shots.size(); ++k) {
    const auto shot = static_cast<int>(k);
    if (shots[k].name != shotOfId(id) || !isCurrent(state, shot) || !state.live.shots[k].full) continue;
    const std::vector<gaps::Gap>& gaps = state.live.shots[k].check->found.gaps;
    const auto index = static_cast<std::size_t>(number) - 1;
    if (number > 0 && index < gaps.size()) return GapRef{shot, gaps[index].hole};
  }
  return std::nullopt;
}

std::string countsByShot(const std::vector<std::string>& ids) {
  std::vector<std::pair<std::string, int>> counts;  // in the order of the ids
  for (const std::string& id : ids) {
    const std::string shot = shotOfId(id);
    const auto is = [&](const auto& entry) { return entry.first == shot; };
    auto found = std::find_if(counts.begin(), counts.end(), is);
    if (found == counts.end()) found = counts.insert(found, {shot, 0});
    ++found->second;
  }
  std::string words;
  for (const auto& [shot, count] : counts)
    words += fmt::format("{}{} in {}", words.empty() ? "" : ", ", count, shot);
  return words;
}

const FillerNote* noteOf(const State& state, const plan::Filler& filler) {
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

std::vector<fill::FillerTotal> fillersToCut(const State& state) {
  if (!state.hasPlan()) return {};
  const plan::Plan& plan = state.plan();
  std::map<std::tuple<int, int, int, int>, fill::FillerTotal> totals;
  for (const plan::Filler& filler : plan.fillers) {
    const int kind = kindOf(plan, filler.placement.bloom);
    const plan::Bloom& bloom = plan.blooms[static_cast<std::size_t>(kind)];
    const Colour colour = filler.placement.colour.value_or(bloom.colours.front());
    fill::FillerTotal& total = totals[{kind, colour.red, colour.green, colour.blue}];
    total.kind = kind;
    total.colour = colour;
    total.spare = spareOf(state, kind, colour);
    ++total.count;
  }
  std::vector<fill::FillerTotal> list;
  for (const auto& [key, total] : totals) list.push_back(total);
  return list;
}

}  // namespace petalproof::app
