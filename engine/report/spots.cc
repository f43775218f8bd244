#include "engine/report/spots.h"

#include "engine/report/internal/outline_distance.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <tuple>

namespace petalproof {
namespace {

bool worse(const Gap& a, const Gap& b) {
  return std::tuple(-a.width_mm, -a.area_mm2, a.number) < std::tuple(-b.width_mm, -b.area_mm2, b.number);
}

BoardRect placeOf(const Gap& gap) {
  return gap.outline_mm.empty() ? BoardRect{gap.centre_mm, gap.centre_mm} : boundsOf(gap.outline_mm);
}

// Gaps by the left edge of what they cover, to look up those near to one without trying all.
class GapsByPlace {
 public:
  GapsByPlace(const std::vector<Gap>& gaps, const std::vector<int>& chosen) {
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

// Indices of all gaps that aren't slivers, worst first.
std::vector<int> worstFirst(const std::vector<Gap>& gaps) {
  std::vector<int> order;
  for (std::size_t k = 0; k < gaps.size(); ++k) {
    if (!isSliver(gaps[k])) order.push_back(static_cast<int>(k));
  }
  std::sort(order.begin(), order.end(), [&gaps](int a, int b) {
    return worse(gaps[static_cast<std::size_t>(a)], gaps[static_cast<std::size_t>(b)]);
  });
  return order;
}

// The spot of `lead`: itself and what is near to it and not taken yet; takes them.
Spot takeSpot(int lead, const std::vector<Gap>& gaps, const GapsByPlace& by_place, std::vector<char>& taken) {
  const auto gapAt = [&gaps](int k) -> const Gap& { return gaps[static_cast<std::size_t>(k)]; };
  const Gap& worst = gapAt(lead);
  Spot spot{{lead}, worst.number};
  taken[static_cast<std::size_t>(lead)] = 1;
  by_place.near(placeOf(worst), spot_reach_mm, [&](int k) {
    char& is_taken = taken[static_cast<std::size_t>(k)];
    if (is_taken != 0 || !nearerThan(spot_reach_mm, worst.outline_mm, gapAt(k).outline_mm)) return;
    is_taken = 1;
    spot.gaps.push_back(k);
  });
  std::sort(spot.gaps.begin() + 1, spot.gaps.end(), [&](int a, int b) { return worse(gapAt(a), gapAt(b)); });
  return spot;
}

}  // namespace

Spots spotsOf(const GapsOfShot& found) {
  const std::vector<int> order = worstFirst(found.gaps);
  const GapsByPlace by_place(found.gaps, order);
  std::vector<char> taken(found.gaps.size(), 0);
  Spots result;
  result.slivers = static_cast<int>(found.gaps.size() - order.size());
  for (const int lead : order) {
    if (taken[static_cast<std::size_t>(lead)] != 0) continue;
    result.spots.push_back(takeSpot(lead, found.gaps, by_place, taken));
  }
  return result;
}

}  // namespace petalproof
