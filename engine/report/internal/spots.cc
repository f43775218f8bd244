#include "engine/report/internal/spots.h"

#include "engine/report/internal/outline_distance.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <tuple>

namespace petalproof::report {
namespace {

// The gaps of a shot with how each reads.
struct ReadGaps {
  const std::vector<gaps::Gap>& gaps;
  const std::vector<reading::Reading>& readings;

  const gaps::Gap& gap(int k) const { return gaps[static_cast<std::size_t>(k)]; }
  reading::Reading reading(int k) const {
    return readings.empty() ? reading::Reading{0, 0, reading::Reads::shows}
                            : readings[static_cast<std::size_t>(k)];
  }
  bool worse(int a, int b) const { return rank(a) < rank(b); }

 private:
  std::tuple<int, double, double, double, int> rank(int k) const {
    const reading::Reading read = reading(k);
    return {-static_cast<int>(read.reads), -read.difference, -gap(k).width_mm, -gap(k).area_mm2,
            gap(k).number};
  }
};

BoardRect placeOf(const gaps::Gap& gap) {
  return gap.outline_mm.empty() ? BoardRect{gap.centre_mm, gap.centre_mm} : boundsOf(gap.outline_mm);
}

// Gaps sorted by their left edges, to look up those near a gap without trying all.
class GapsByPlace {
 public:
  GapsByPlace(const std::vector<gaps::Gap>& gaps, const std::vector<int>& chosen) {
    for (const int k : chosen) {
      entries_.push_back({k, placeOf(gaps[static_cast<std::size_t>(k)]), 0});
    }
    std::sort(entries_.begin(), entries_.end(), [](const Entry& a, const Entry& b) {
      return std::tuple(a.bounds.min_mm.x, a.gap) < std::tuple(b.bounds.min_mm.x, b.gap);
    });
    double farthest = -std::numeric_limits<double>::infinity();
    for (Entry& entry : entries_) {
      farthest = std::max(farthest, entry.bounds.max_mm.x);
      entry.farthest_right_so_far = farthest;
    }
  }

  // Calls `found` with each gap whose rectangle comes nearer than `reach_mm` to `place`.
  template <class Found>
  void near(const BoardRect& place, double reach_mm, Found found) const {
    auto entry =
        std::upper_bound(entries_.begin(), entries_.end(), place.max_mm.x + reach_mm,
                         [](double x, const Entry& candidate) { return x < candidate.bounds.min_mm.x; });
    while (entry != entries_.begin()) {
      --entry;
      if (entry->farthest_right_so_far < place.min_mm.x - reach_mm) return;
      if (distanceBetween(entry->bounds, place) < reach_mm) found(entry->gap);
    }
  }

 private:
  struct Entry {
    int gap;
    BoardRect bounds;
    double farthest_right_so_far;
  };
  std::vector<Entry> entries_;
};

// Returns the gaps that stand in a spot, worst first, and counts the others.
std::vector<int> worstFirst(const ReadGaps& all, Spots& counts) {
  std::vector<int> order;
  for (int k = 0; k < static_cast<int>(all.gaps.size()); ++k) {
    const reading::Reads reads = all.reading(k).reads;
    if (isSliver(all.gap(k))) {
      ++counts.slivers;
      if (reads == reading::Reads::shows && !all.readings.empty()) ++counts.slivers_showing;
    } else if (reads == reading::Reads::lost) {
      ++counts.lost;
    } else {
      order.push_back(k);
    }
  }
  std::sort(order.begin(), order.end(), [&all](int a, int b) { return all.worse(a, b); });
  return order;
}

// Makes the spot of the gap `lead`: takes it and all gaps near it that no spot has yet.
Spot takeSpot(int lead, const ReadGaps& all, const GapsByPlace& by_place, std::vector<char>& taken) {
  const gaps::Gap& worst = all.gap(lead);
  Spot spot{{lead}, worst.number};
  taken[static_cast<std::size_t>(lead)] = 1;
  by_place.near(placeOf(worst), spot_reach_mm, [&](int k) {
    char& is_taken = taken[static_cast<std::size_t>(k)];
    if (is_taken != 0 || !nearerThan(spot_reach_mm, worst.outline_mm, all.gap(k).outline_mm)) return;
    is_taken = 1;
    spot.gaps.push_back(k);
  });
  std::sort(spot.gaps.begin() + 1, spot.gaps.end(), [&all](int a, int b) { return all.worse(a, b); });
  return spot;
}

}  // namespace

Spots spotsOf(const gaps::GapsOfShot& found, const std::vector<reading::Reading>& readings) {
  const ReadGaps all{found.gaps, readings};
  Spots result;
  const std::vector<int> order = worstFirst(all, result);
  const GapsByPlace by_place(found.gaps, order);
  std::vector<char> taken(found.gaps.size(), 0);
  for (const int lead : order) {
    if (taken[static_cast<std::size_t>(lead)] != 0) continue;
    result.spots.push_back(takeSpot(lead, all, by_place, taken));
  }
  return result;
}

}  // namespace petalproof::report
