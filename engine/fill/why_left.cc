#include "engine/fill/why_left.h"

#include "engine/base/length_text.h"
#include "engine/candidates/candidate_pool.h"
#include "engine/gaps/gaps.h"
#include "engine/plan/leaf_plate.h"
#include "engine/plan/plan.h"
#include "engine/plan/plan_defaults.h"
#include "engine/plan/shape_names.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

namespace petalproof::fill {
namespace {

// Counts, over all fillers tried, which rule was in the way.
struct Tally {
  int usable = 0;  // nothing was in the way
  int by_other_plate = 0;
  int by_other_filler = 0;  // by its inner half or the tried filler's
  int by_face = 0;
  int by_stock = 0;
  std::map<std::pair<candidates::Bar, std::int32_t>, int> barred;
  std::map<std::size_t, int> stock_kinds;
  std::int32_t face = -1;
  std::optional<candidates::Candidate> first_usable;
};

std::string nameOfBloom(const candidates::SearchTask& task, std::int32_t number) {
  const scene::BloomInstance& bloom = task.scene.blooms[static_cast<std::size_t>(number)];
  const plan::Bloom& kind = task.plan.blooms[static_cast<std::size_t>(bloom.kind)];
  const std::string name = kind.label.empty() ? kind.name : kind.label;
  if (bloom.panel_column < 0) return fmt::format("the filler \"{}\"", name);
  return fmt::format("the {} on {}", name, plan::cellName(bloom.panel_column, bloom.panel_row));
}

// True, and counted, if a chosen filler is in the way.
bool otherInTheWay(const candidates::SearchTask& task, const candidates::Candidate& probe,
                   const std::vector<candidates::Candidate>& chosen, Tally& tally) {
  const auto in_the_way = std::find_if(chosen.begin(), chosen.end(), [&](const candidates::Candidate& other) {
    return candidates::clash(task, probe, other) != candidates::Clash::none;
  });
  if (in_the_way == chosen.end()) return false;
  ++(candidates::clash(task, probe, *in_the_way) == candidates::Clash::plates ? tally.by_other_plate
                                                                              : tally.by_other_filler);
  return true;
}

// Tries a filler: if it hides the place, counts what is in its way.
void look(const candidates::SearchTask& task, const glm::dvec3& eye, glm::dvec2 at,
          const candidates::Candidate& probe, const std::vector<candidates::Candidate>& chosen,
          const std::vector<int>& stock, Tally& tally) {
  if (!candidates::mightHide(task.maker, probe, candidates::Eye{eye, nullptr, {}, {}}, at) ||
      !candidates::hides(candidates::silhouetteOf(task.maker, probe, eye), at))
    return;
  std::vector<candidates::FaceHidden> takes;
  const candidates::Barred barred = task.sites.bars(probe.kind, probe.site, probe.turn_deg, &takes);
  if (barred.by != candidates::Bar::none) {
    ++tally.barred[{barred.by, barred.bloom}];
    return;
  }
  if (otherInTheWay(task, probe, chosen, tally)) return;
  const auto used = std::count_if(chosen.begin(), chosen.end(), [&](const candidates::Candidate& filler) {
    return filler.kind == probe.kind;
  });
  if (stock[probe.kind] >= 0 && used >= stock[probe.kind]) {
    ++tally.by_stock;
    ++tally.stock_kinds[probe.kind];
    return;
  }
  for (const candidates::FaceHidden& face : takes) {
    double taken = face.places;
    for (const candidates::Candidate& filler : chosen)
      for (const candidates::FaceHidden& other : filler.takes)
        if (other.bloom == face.bloom) taken += other.places;
    if (taken <= task.sites.faceLimit(face.bloom)) continue;
    ++tally.by_face;
    tally.face = face.bloom;
    return;
  }
  ++tally.usable;
  if (!tally.first_usable) tally.first_usable = probe;
}

std::string inWords(const candidates::SearchTask& task, candidates::Bar by, std::int32_t bloom) {
  switch (by) {
    case candidates::Bar::plate:
      return fmt::format("no filler whose base plate fits beside {} reaches it", nameOfBloom(task, bloom));
    case candidates::Bar::innerHalf:
      return fmt::format("a filler there would reach into the inner half of {}", nameOfBloom(task, bloom));
    case candidates::Bar::face:
      return fmt::format("a filler there would hide too much of {}", nameOfBloom(task, bloom));
    case candidates::Bar::hang: return "a filler there would hang too far past the wall's outer edge";
    case candidates::Bar::edge: return "a filler's base plate there would reach past the wall's outer edge";
    case candidates::Bar::emptyCell: return "a filler's base plate there would be over an empty cell";
    case candidates::Bar::slit: return "the slit is too wide for a base plate to hold on to both sides";
    case candidates::Bar::none: break;
  }
  return "no filler reaches it";
}

// Tries fillers of all kinds all around a place.
Tally lookAround(const candidates::SearchTask& task, const glm::dvec3& eye, glm::dvec2 at,
                 const std::vector<candidates::Candidate>& chosen) {
  constexpr double reach_share = 0.6;  // farther fillers hide hardly anything of the place
  constexpr double steps_each_diameter = 16;
  constexpr int turns_of_leaf = 12;
  constexpr int turns_of_round = 2;
  const std::vector<int> stock = candidates::stockLeft(task.plan, task.maker);
  Tally tally;
  for (std::size_t kind = 0; kind < task.maker.kinds().size(); ++kind) {
    const scene::FillerKind& filler = task.maker.kinds()[kind];
    const double reach = filler.diameter_mm * reach_share;
    const double pitch = std::max(task.sites.tapeStep_mm(), filler.diameter_mm / steps_each_diameter);
    const int turns = filler.greenery ? turns_of_leaf : turns_of_round;
    for (double y = -reach; y <= reach; y += pitch)
      for (double x = -reach; x <= reach; x += pitch)
        for (int turn = 0; turn < turns; ++turn)
          look(task, eye, at, {kind, task.sites.nearestSite(at + glm::dvec2(x, y)), 360 * turn / turns, {}},
               chosen, stock, tally);
  }
  return tally;
}

}  // namespace

std::optional<candidates::Proposal> fillerThatFits(const candidates::SearchTask& task, const glm::dvec3& eye,
                                                   glm::dvec2 at,
                                                   const std::vector<candidates::Candidate>& chosen) {
  const Tally tally = lookAround(task, eye, at, chosen);
  if (!tally.first_usable) return std::nullopt;
  const candidates::Candidate& filler = *tally.first_usable;
  return candidates::Proposal{filler.kind, filler.site.board_mm, filler.turn_deg, 1};
}

WhyLeft whyLeft(const candidates::SearchTask& task, const glm::dvec3& eye, glm::dvec2 at,
                const std::vector<candidates::Candidate>& chosen, const std::vector<int>& wanted) {
  if (task.maker.kinds().empty()) return {"no bloom of the plan may be used as a filler (filler = true)"};
  const Tally tally = lookAround(task, eye, at, chosen);
  if (tally.usable > 0) return {"a filler would fit here: the search ended before it placed one"};
  if (tally.by_stock > 0) {
    const std::size_t kind = tally.stock_kinds.begin()->first;
    const plan::Bloom& bloom = task.plan.blooms[static_cast<std::size_t>(task.maker.kinds()[kind].kind)];
    const std::string used_up = fmt::format("the stock of {} is used up", bloom.name);
    return {wanted[kind] > 0 ? fmt::format("{}: {} more would do it", used_up, wanted[kind]) : used_up};
  }
  if (tally.by_face > 0)
    return {fmt::format("one more filler would hide too much of {}", nameOfBloom(task, tally.face))};
  if (tally.by_other_filler > tally.by_other_plate)
    return {"one more filler would reach into the inner half of another one, or that one into its own"};
  if (tally.by_other_plate > 0) return {"no base plate fits beside the other fillers", true};
  const auto most = std::max_element(tally.barred.begin(), tally.barred.end(),
                                     [](const auto& a, const auto& b) { return a.second < b.second; });
  if (most == tally.barred.end()) return {inWords(task, candidates::Bar::none, -1)};
  const auto [bar, bloom] = most->first;
  return {inWords(task, bar, bloom),
          bar == candidates::Bar::plate || bar == candidates::Bar::edge || bar == candidates::Bar::emptyCell};
}

std::optional<std::string> noteOnLeafPlates(const plan::Plan& plan, const std::vector<LeftGap>& left) {
  if (std::none_of(left.begin(), left.end(), [](const LeftGap& gap) { return gap.by_plates; }))
    return std::nullopt;
  const auto widest = [&](const plan::Bloom& bloom) {
    const auto* const shape = std::get_if<plan::Shape>(&bloom.form);
    const bool is_leaf = shape && plan::takesWidth(*shape) && bloom.filler && !bloom.plate;
    return is_leaf ? toMillimetres(bloom.diameter, plan) : 0.0;
  };
  const auto leaf =
      std::max_element(plan.blooms.begin(), plan.blooms.end(),
                       [&](const plan::Bloom& a, const plan::Bloom& b) { return widest(a) < widest(b); });
  if (leaf == plan.blooms.end() || widest(*leaf) == 0) return std::nullopt;
  return fmt::format(
      "{} is taken to stick by a disc of {}, 0.3 of its length, since the plan doesn't say. If only the "
      "end of its stalk sticks, give it a plate of {}: more of them find room then.",
      leaf->name, tapeText(plan::usual_plate_share * widest(*leaf), plan.units),
      tapeText(toMillimetres(plan::leafPlate(leaf->diameter, plan.units), plan.units), plan.units));
}

}  // namespace petalproof::fill
