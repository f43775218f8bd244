#include "engine/fill/internal/lower_bound.h"

#include "engine/base/hash.h"
#include "engine/base/units.h"
#include "engine/candidates/footprint.h"
#include "engine/cover/packing.h"

#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <optional>
#include <tuple>
#include <unordered_set>
#include <utility>
#include <vector>

namespace petalproof::fill {
namespace {

constexpr double first_side_mm = 32;  // of a bin
constexpr double least_side_mm = 2;
constexpr int most_rounds = 8;  // of finer bins
// Of a wall of middling size; of a large one so many a square metre. The linear programs take a small part of
// the time that finding what bins hide does.
constexpr double most_bins = 150'000;
constexpr double most_places = 1'500;
constexpr double most_bins_each_m2 = 20'000;
constexpr double most_places_each_m2 = 210;
constexpr double heavy = 0.9;  // bins that weigh more are looked at more finely

// By number of the eye.
struct EyePlace {
  std::uint32_t eye = 0;
  glm::dvec2 at{0};
  double around_mm = 0;
};

std::vector<EyePlace> allThatCount(const candidates::MustHide& all, const candidates::PlaceGrid& grid,
                                   const HowNear& howNear) {
  std::vector<EyePlace> found;
  for (std::uint32_t eye = 0; eye < all.eyes.size(); ++eye) {
    const auto offer = [&](glm::dvec2 at) {
      const std::optional<double> around_mm = howNear ? howNear(eye, at) : 0;
      if (around_mm) found.push_back({eye, at, *around_mm});
    };
    all.eyes[eye].places.forEach([&](int column, int row) { offer({grid.x.at(column), grid.y.at(row)}); });
    for (const glm::dvec2& place : all.eyes[eye].others) offer(place);
  }
  return found;
}

double squareMetresOf(const scene::PanelGrid& panels) {
  return panels.width_mm() * panels.height_mm() * 1e-6;
}

// Thins the places out: keeps, in each block of each eye, the place whose number has the least hash.
std::vector<std::size_t> oneInEachBlock(const std::vector<EyePlace>& places, double block_mm) {
  std::map<std::tuple<std::uint32_t, int, int>, std::size_t> blocks;
  for (std::size_t k = 0; k < places.size(); ++k) {
    const glm::dvec2 block = glm::floor(places[k].at / block_mm);
    const auto [known, fresh] =
        blocks.try_emplace({places[k].eye, static_cast<int>(block.x), static_cast<int>(block.y)}, k);
    if (!fresh && hashOf({k}) < hashOf({known->second})) known->second = k;
  }
  std::vector<std::size_t> kept;
  for (const auto& [block, k] : blocks) kept.push_back(k);
  return kept;
}

std::vector<candidates::SeenPlace> someOf(const candidates::MustHide& all, const candidates::SearchTask& task,
                                          const HowNear& howNear) {
  double block = 1e9;
  for (const scene::FillerKind& kind : task.maker.kinds()) block = std::min(block, kind.width_mm / 8);
  const std::vector<EyePlace> places = allThatCount(all, task.sites.grid(), howNear);
  std::vector<std::size_t> some = oneInEachBlock(places, block);
  const double most = std::max(most_places, most_places_each_m2 * squareMetresOf(task.scene.panels));
  while (static_cast<double>(some.size()) > most) some = oneInEachBlock(places, block *= 1.25);
  std::vector<candidates::SeenPlace> seen;
  for (const std::size_t k : some)
    seen.push_back({places[k].at, all.eyes[places[k].eye].at, places[k].around_mm});
  return seen;
}

// Places near a place, by squares.
class PlacesNearby {
 public:
  PlacesNearby(const std::vector<candidates::SeenPlace>& places, double highest_mm) {
    for (std::uint32_t k = 0; k < places.size(); ++k) {
      const candidates::SeenPlace& place = places[k];
      const double share = std::min(1.0, highest_mm / place.eye.z);
      farthest_shift_ =
          std::max(farthest_shift_, share * glm::length(glm::dvec2(place.eye) - place.at) + place.around_mm);
      squares_[squareOf(place.at)].push_back(k);
    }
  }
  template <class Visit>
  void forEach(glm::dvec2 middle, double reach_mm, const Visit& visit) const {
    const auto low = squareOf(middle - reach_mm - farthest_shift_);
    const auto high = squareOf(middle + reach_mm + farthest_shift_);
    for (int x = low.first; x <= high.first; ++x)
      for (auto square = squares_.lower_bound({x, low.second});
           square != squares_.end() && square->first <= std::pair(x, high.second); ++square)
        for (const std::uint32_t k : square->second) visit(k);
  }

 private:
  static std::pair<int, int> squareOf(glm::dvec2 at) {
    return {static_cast<int>(std::floor(at.x / 64)), static_cast<int>(std::floor(at.y / 64))};
  }
  double farthest_shift_ = 0;
  std::map<std::pair<int, int>, std::vector<std::uint32_t>> squares_;
};

class Bins {
 public:
  Bins(const candidates::SearchTask& task, const std::vector<candidates::SeenPlace>& places)
      : task_(task),
        places_(places),
        near_(places, deepest(task)),
        problem_{static_cast<std::uint32_t>(places.size()), {}} {
    const double sway = radians(task.maker.sway_deg());
    for (const scene::FillerKind& kind : task.maker.kinds()) footprints_.emplace_back(kind, sway);
    addAllOver();
  }

  // Places as items, by number; what each bin's fillers may hide as groups.
  const cover::PackingProblem& problem() const { return problem_; }
  // Cuts those that are heavy. False where none is, or none can be.
  bool refine(const std::vector<double>& loads) {
    settle(loads);
    std::vector<candidates::FillerBin> fresh;
    std::vector<candidates::FillerBin> bins;
    std::vector<std::vector<std::uint32_t>> groups;
    for (std::size_t k = 0; k < bins_.size(); ++k) {
      if (loads[k] > heavy && !isSettled(k) && cut(bins_[k], fresh)) continue;
      bins.push_back(bins_[k]);
      groups.push_back(std::move(problem_.groups[k]));
    }
    bins_ = std::move(bins);
    problem_.groups = std::move(groups);
    add(fresh);
    return !fresh.empty();
  }

 private:
  static double deepest(const candidates::SearchTask& task) {
    double most = 0;
    for (const scene::FillerKind& kind : task.maker.kinds()) most = std::max(most, 1.1 * kind.depth_mm);
    return most;
  }

  void addAllOver() {
    std::vector<candidates::FillerBin> all;
    const scene::PanelGrid& panels = task_.scene.panels;
    const double side = first_side_mm * candidates::coarsenessOf(task_.sites.grid());
    for (std::size_t kind = 0; kind < footprints_.size(); ++kind) {
      const int turns = footprints_[kind].isRound() ? 1 : candidates::bins_all_round;
      for (double y = side / 2; y < panels.height_mm() + side / 2; y += side)
        for (double x = side / 2; x < panels.width_mm() + side / 2; x += side)
          for (int turn = 0; turn < turns; ++turn)
            all.push_back({kind, {x, y}, side / 2, 2 * pi * turn / turns, 0});
    }
    add(all);
  }

  // Keeps the bins that a filler could sit in and hide a place from.
  void add(const std::vector<candidates::FillerBin>& fresh) {
    std::vector<std::vector<std::uint32_t>> hidden(fresh.size());
    task_.workers.forEach(fresh.size(), [&](std::size_t k) {
      throwIfStopAsked(task_.stop);
      hidden[k] = hiddenBy(fresh[k]);
    });
    for (std::size_t k = 0; k < fresh.size(); ++k) {
      if (hidden[k].empty()) continue;
      bins_.push_back(fresh[k]);
      problem_.groups.push_back(std::move(hidden[k]));
    }
  }

  std::vector<std::uint32_t> hiddenBy(const candidates::FillerBin& bin) const {
    const double open = bin.half_mm * std::sqrt(2.0);
    std::vector<std::uint32_t> hidden;
    if (task_.sites.plateFitsNowhere(task_.maker.kinds()[bin.kind], bin.middle, open)) return hidden;
    const candidates::FillerFootprint& footprint = footprints_[bin.kind];
    near_.forEach(bin.middle, footprint.radius_mm() + open + 1, [&](std::uint32_t k) {
      if (footprint.mayHide(bin, places_[k])) hidden.push_back(k);
    });
    std::sort(hidden.begin(), hidden.end());
    return hidden;
  }

  // Groups that a filler in the middle of their bin can hide: finer bins would say the same again.
  void settle(const std::vector<double>& loads) {
    std::vector<char> settled(bins_.size(), 0);
    task_.workers.forEach(bins_.size(), [&](std::size_t k) {
      if (loads[k] <= heavy || isSettled(k)) return;
      candidates::FillerBin middle = bins_[k];
      middle.half_mm = 0;
      middle.level = candidates::turn_levels - 1;
      settled[k] = hiddenBy(middle) == problem_.groups[k] ? 1 : 0;
    });
    for (std::size_t k = 0; k < bins_.size(); ++k)
      if (settled[k] != 0) settled_.insert(hashOfGroup(problem_.groups[k]));
  }

  bool isSettled(std::size_t k) const { return settled_.count(hashOfGroup(problem_.groups[k])) != 0; }
  static std::uint64_t hashOfGroup(const std::vector<std::uint32_t>& group) {
    std::uint64_t hash = group.size();
    for (const std::uint32_t item : group) hash = mixed(hash ^ item);
    return hash;
  }

  // By place or by turn, whichever leaves more open.
  bool cut(const candidates::FillerBin& bin, std::vector<candidates::FillerBin>& to) const {
    const candidates::FillerFootprint& footprint = footprints_[bin.kind];
    const double by_turn = footprint.isRound() || bin.level + 1 == candidates::turn_levels
                               ? 0
                               : footprint.radius_mm() * std::sin(candidates::halfTurnOf(bin.level)) / 2;
    const bool may_shrink = bin.half_mm > least_side_mm / 2;
    if (!may_shrink && by_turn == 0) return false;
    if (!may_shrink || by_turn > bin.half_mm * std::sqrt(2.0)) {
      for (const int side : {-1, 1}) {
        candidates::FillerBin half = bin;
        half.level = bin.level + 1;
        half.turn = bin.turn + side * candidates::halfTurnOf(half.level);
        to.push_back(half);
      }
      return true;
    }
    for (const double x : {-0.5, 0.5})
      for (const double y : {-0.5, 0.5}) {
        candidates::FillerBin quarter = bin;
        quarter.half_mm = bin.half_mm / 2;
        quarter.middle = bin.middle + glm::dvec2(x, y) * bin.half_mm;
        to.push_back(quarter);
      }
    return true;
  }

  const candidates::SearchTask& task_;
  const std::vector<candidates::SeenPlace>& places_;
  PlacesNearby near_;
  std::vector<candidates::FillerFootprint> footprints_;
  std::vector<candidates::FillerBin> bins_;
  cover::PackingProblem problem_;
  std::unordered_set<std::uint64_t> settled_;  // hashes of groups; two alike would only leave a bin coarse
};

}  // namespace

int fewestFillers(const candidates::MustHide& all, const candidates::SearchTask& task,
                  const HowNear& howNear) {
  if (task.maker.kinds().empty()) return 0;
  const std::vector<candidates::SeenPlace> places = someOf(all, task, howNear);
  if (places.empty()) return 0;
  Bins bins(task, places);
  const double enough_bins = std::max(most_bins, most_bins_each_m2 * squareMetresOf(task.scene.panels));
  int fewest = 0;
  std::vector<double> weights;
  for (int round = 0; round <= most_rounds; ++round) {
    const cover::PackingProblem& problem = bins.problem();
    weights = cover::heaviestPacking(problem, std::move(weights), task.stop);
    fewest = std::max(fewest, cover::fewestGroups(problem, weights));
    if (static_cast<double>(problem.groups.size()) > enough_bins ||
        !bins.refine(cover::loadsOf(problem, weights)))
      break;
  }
  return fewest;
}

}  // namespace petalproof::fill
