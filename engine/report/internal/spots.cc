#include "engine/report/internal/spots.h"

#include "engine/report/internal/outline_distance.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <tuple>

namespace petalproof::report {
namespace {

// The holes of a shot with how each reads.
struct ReadHoles {
  const std::vector<gaps::Hole>& holes;
  const std::vector<reading::Reading>& readings;

  const gaps::Gap& hole(int k) const { return holes[static_cast<std::size_t>(k)].whole; }
  reading::Reads reads(int k) const {
    return readings.empty() ? reading::Reads::shows : readings[static_cast<std::size_t>(k)].reads;
  }
  bool worse(int a, int b) const { return rank(a) < rank(b); }
  bool larger(int a, int b) const {
    return std::tuple(-static_cast<int>(reads(a)), -hole(a).area_mm2, hole(a).number) <
           std::tuple(-static_cast<int>(reads(b)), -hole(b).area_mm2, hole(b).number);
  }

 private:
  double weight(int k) const {
    if (readings.empty()) return 0;
    const reading::Reading& reading = readings[static_cast<std::size_t>(k)];
    return reading.odder_than * reading.looks.area_arcmin2;
  }
  std::tuple<int, double, double, double, int> rank(int k) const {
    return {-static_cast<int>(reads(k)), -weight(k), -hole(k).width_mm, -hole(k).area_mm2, hole(k).number};
  }
};

BoardRect placeOf(const gaps::Gap& gap) {
  return gap.outline_mm.empty() ? BoardRect{gap.centre_mm, gap.centre_mm} : boundsOf(gap.outline_mm);
}

// Holes by the left edge of what they cover, to look up those near to one without trying all.
class HolesByPlace {
 public:
  HolesByPlace(const ReadHoles& all, const std::vector<int>& chosen) {
    for (const int k : chosen) entries_.push_back({k, placeOf(all.hole(k)), 0});
    std::sort(entries_.begin(), entries_.end(), [](const Entry& a, const Entry& b) {
      return std::tuple(a.bounds.min_mm.x, a.hole) < std::tuple(b.bounds.min_mm.x, b.hole);
    });
    double farthest = -std::numeric_limits<double>::infinity();
    for (Entry& entry : entries_) {
      farthest = std::max(farthest, entry.bounds.max_mm.x);
      entry.farthest_right_so_far = farthest;
    }
  }

  // Calls `found` with each hole whose rectangle comes nearer than `reach_mm` to `place`.
  template <class Found>
  void near(const BoardRect& place, double reach_mm, Found found) const {
    auto entry =
        std::upper_bound(entries_.begin(), entries_.end(), place.max_mm.x + reach_mm,
                         [](double x, const Entry& candidate) { return x < candidate.bounds.min_mm.x; });
    while (entry != entries_.begin()) {
      --entry;
      if (entry->farthest_right_so_far < place.min_mm.x - reach_mm) return;
      if (distanceBetween(entry->bounds, place) < reach_mm) found(entry->hole);
    }
  }

 private:
  struct Entry {
    int hole;
    BoardRect bounds;
    double farthest_right_so_far;
  };
  std::vector<Entry> entries_;
};

// Indices of all holes that stand in a spot, worst first; counts the others.
std::vector<int> worstFirst(const ReadHoles& all, Spots& counts) {
  std::vector<int> order;
  for (int k = 0; k < static_cast<int>(all.holes.size()); ++k) {
    if (isSliver(all.hole(k))) {
      ++counts.slivers;
      if (all.reads(k) == reading::Reads::shows && !all.readings.empty()) ++counts.slivers_showing;
    } else if (all.reads(k) == reading::Reads::lost) {
      ++counts.lost;
    } else {
      order.push_back(k);
    }
  }
  std::sort(order.begin(), order.end(), [&all](int a, int b) { return all.worse(a, b); });
  return order;
}

// The spot of `lead`: itself and what is near to it and not taken yet; takes them.
Spot takeSpot(int lead, const ReadHoles& all, const HolesByPlace& by_place, std::vector<char>& taken) {
  const gaps::Gap& worst = all.hole(lead);
  Spot spot{{lead}, 0};
  taken[static_cast<std::size_t>(lead)] = 1;
  by_place.near(placeOf(worst), spot_reach_mm, [&](int k) {
    char& is_taken = taken[static_cast<std::size_t>(k)];
    if (is_taken != 0 || !nearerThan(spot_reach_mm, worst.outline_mm, all.hole(k).outline_mm)) return;
    is_taken = 1;
    spot.holes.push_back(k);
  });
  const auto largest = std::min_element(spot.holes.begin(), spot.holes.end(),
                                        [&all](int a, int b) { return all.larger(a, b); });
  std::iter_swap(spot.holes.begin(), largest);
  std::sort(spot.holes.begin() + 1, spot.holes.end(), [&all](int a, int b) { return all.worse(a, b); });
  spot.number = all.hole(spot.holes.front()).number;
  return spot;
}

}  // namespace

Spots spotsOf(const gaps::GapsOfShot& found, const std::vector<reading::Reading>& readings) {
  const ReadHoles all{found.holes, readings};
  Spots result;
  const std::vector<int> order = worstFirst(all, result);
  const HolesByPlace by_place(all, order);
  std::vector<char> taken(found.holes.size(), 0);
  for (const int lead : order) {
    if (taken[static_cast<std::size_t>(lead)] != 0) continue;
    result.spots.push_back(takeSpot(lead, all, by_place, taken));
  }
  return result;
}

}  // namespace petalproof::report
