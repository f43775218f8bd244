#include "engine/filler/internal/lower_bound.h"

#include "engine/filler/cover.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>
#include <vector>

namespace petalproof {
namespace {

constexpr double rounding = 1.002;  // shapes keep their sizes to 0.1 %

struct HidingPlace {
  glm::dvec2 at{0};
  double reach = 0;
};

// The one with the least reach in each block, which leaves most room for others.
class Blocks {
 public:
  explicit Blocks(double size_mm) : size_mm_(size_mm) {}
  void offer(const HidingPlace& place) {
    const std::pair<int, int> block(static_cast<int>(std::floor(place.at.x / size_mm_)),
                                    static_cast<int>(std::floor(place.at.y / size_mm_)));
    const auto [known, fresh] = best_.try_emplace(block, place);
    if (!fresh && place.reach < known->second.reach) known->second = place;
  }
  std::vector<HidingPlace> places() const {
    std::vector<HidingPlace> list;
    for (const auto& [block, place] : best_) list.push_back(place);
    return list;
  }

 private:
  double size_mm_;
  std::map<std::pair<int, int>, HidingPlace> best_;
};

// By columns of blocks, so that each looks only at those near it.
std::vector<std::vector<std::uint32_t>> neighboursOf(const std::vector<HidingPlace>& places,
                                                     double most_reach) {
  std::map<std::pair<int, int>, std::vector<std::uint32_t>> bins;
  const auto binOf = [&](const HidingPlace& place) {
    return std::pair(static_cast<int>(std::floor(place.at.x / (2 * most_reach))),
                     static_cast<int>(std::floor(place.at.y / (2 * most_reach))));
  };
  for (std::uint32_t k = 0; k < places.size(); ++k) bins[binOf(places[k])].push_back(k);
  std::vector<std::vector<std::uint32_t>> neighbours(places.size());
  for (std::uint32_t k = 0; k < places.size(); ++k) {
    const std::pair<int, int> bin = binOf(places[k]);
    for (int row = bin.second - 1; row <= bin.second + 1; ++row)
      for (int column = bin.first - 1; column <= bin.first + 1; ++column) {
        const auto near = bins.find({column, row});
        if (near == bins.end()) continue;
        for (const std::uint32_t other : near->second)
          if (other != k &&
              glm::length(places[k].at - places[other].at) <= places[k].reach + places[other].reach)
            neighbours[k].push_back(other);
      }
    std::sort(neighbours[k].begin(), neighbours[k].end());
  }
  return neighbours;
}

}  // namespace

// An axis c hides p only if p = c + v + (c + v - e)(s - 1) for a point of the filler v from its axis, where
// s = e.z / (e.z - z) is at most that of its depth. So |p - c| <= s |v| + (s - 1) |c - e|, and
// |c - e| <= |p - e| + |p - c|.
double reachOf(const FillerMaker& maker, const glm::dvec3& eye, glm::dvec2 place) {
  double most = 0;
  for (const FillerKind& kind : maker.kinds()) {
    const double depth = kind.depth_mm * rounding;
    if (depth * 2 >= eye.z) return std::numeric_limits<double>::infinity();
    const double s = eye.z / (eye.z - depth);
    const double radius = kind.diameter_mm / 2 * rounding;
    most = std::max(most, (s * radius + (s - 1) * glm::length(place - glm::dvec2(eye))) / (2 - s));
  }
  return most;
}

int fewestFillers(const MustHide& all, const FillerMaker& maker, const PlaceGrid& grid, std::uint64_t seed,
                  const std::function<bool(std::uint32_t, glm::dvec2)>& counts) {
  double largest = 0;
  for (const FillerKind& kind : maker.kinds()) largest = std::max(largest, kind.diameter_mm);
  if (maker.kinds().empty()) return 0;
  Blocks blocks(largest / 8);
  for (std::uint32_t eye = 0; eye < all.eyes.size(); ++eye) {
    const Eye& one = all.eyes[eye];
    const auto offer = [&](glm::dvec2 at) {
      if (!counts || counts(eye, at)) blocks.offer({at, reachOf(maker, one.at, at)});
    };
    for (int row = 0; row < one.places.rows; ++row)
      for (int column = 0; column < one.places.columns; ++column)
        if (one.places.has(column, row)) offer({grid.x.at(column), grid.y.at(row)});
    for (const glm::dvec2& place : one.others) offer(place);
  }
  const std::vector<HidingPlace> places = blocks.places();
  double most_reach = 1;
  for (const HidingPlace& place : places) most_reach = std::max(most_reach, place.reach);
  if (!std::isfinite(most_reach)) return places.empty() ? 0 : 1;
  return static_cast<int>(largestApart(neighboursOf(places, most_reach), seed, 20'000).size());
}

}  // namespace petalproof
