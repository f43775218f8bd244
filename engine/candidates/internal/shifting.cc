#include "engine/candidates/internal/shifting.h"

#include "engine/base/units.h"
#include "engine/candidates/fitting.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>

namespace petalproof::candidates {
namespace {

constexpr int most_shifts = 120;  // more hardly ever succeed
// After so many steps no place may be farther off than this, or it is given up.
struct Promise {
  int steps;
  double off;
};
constexpr Promise promises[] = {{0, 2.5}, {6, 1.3}, {16, 1.12}, {40, 1.05}};

bool isHopeless(int step, double off) {
  return std::any_of(std::begin(promises), std::end(promises),
                     [&](const Promise& promise) { return step >= promise.steps && off > promise.off; });
}
constexpr double turns_deg[] = {0, -10, 10, -3, 3};  // that a leaf may turn by in a step

// A filler that is moved.
struct Mover {
  Proposal at;
  glm::dvec2 along{0, 1};
  glm::dvec2 half{1, 1};  // across and along, less the room it must leave
  bool leaf = false;
};

glm::dvec2 alongOf(double turn_deg) { return {std::sin(radians(turn_deg)), std::cos(radians(turn_deg))}; }

Mover moverOf(const scene::FillerMaker& maker, const Proposal& filler, double room_mm) {
  const scene::FillerKind& kind = maker.kinds()[filler.kind];
  const glm::dvec2 half = glm::dvec2(kind.width_mm, kind.diameter_mm) / 2.0 - room_mm;
  return {filler, alongOf(filler.turn_deg), glm::max(half, glm::dvec2(1)), kind.greenery};
}

// How far a place is from the filler's middle, where 1 is its outline: a disc, or a leaf between two
// parabolas.
double farOff(const Mover& mover, glm::dvec2 from) {
  if (!mover.leaf) return glm::length(from) / mover.half.x;
  const double u = glm::dot(from, mover.along) / mover.half.y;
  const double v = std::abs(from.x * mover.along.y - from.y * mover.along.x) / mover.half.x;
  return (v + std::sqrt(v * v + 4 * u * u)) / 2;  // the s at which v / s + (u / s)^2 is 1
}

double farthest(const Mover& mover, std::span<const glm::dvec2> places) {
  double most = 0;
  for (const glm::dvec2& p : places) most = std::max(most, farOff(mover, p - mover.at.board_mm));
  return most;
}

// Moves a filler to the middle of its places and turns a leaf a little, where that is better.
void settle(Mover& mover, const std::vector<glm::dvec2>& places) {
  if (places.empty()) return;
  if (!mover.leaf) {
    mover.at.board_mm = smallestCircle(places).centre;
    return;
  }
  Mover best = mover;
  double least = farthest(mover, places);
  for (const double turn : turns_deg) {
    Mover tried = mover;
    tried.at.turn_deg = (static_cast<int>(std::lround(mover.at.turn_deg + turn)) % 360 + 360) % 360;
    tried.along = alongOf(tried.at.turn_deg);
    const glm::dvec2 across(tried.along.y, -tried.along.x);
    glm::dvec2 low(1e300);
    glm::dvec2 high(-1e300);
    for (const glm::dvec2& p : places) {
      const glm::dvec2 own(glm::dot(p, across), glm::dot(p, tried.along));
      low = glm::min(low, own);
      high = glm::max(high, own);
    }
    const glm::dvec2 middle = (low + high) / 2.0;
    tried.at.board_mm = across * middle.x + tried.along * middle.y;
    if (const double most = farthest(tried, places); most < least) {
      least = most;
      best = tried;
    }
  }
  mover = best;
}

// Shares the places out to the fillers that come nearest to hiding them. Returns how far off the farthest
// place is.
double shareOut(const std::vector<Mover>& movers, std::span<const glm::dvec2> places,
                std::vector<std::vector<glm::dvec2>>& shares) {
  for (auto& share : shares) share.clear();
  double farthest_off = 0;
  for (const glm::dvec2& place : places) {
    double least = std::numeric_limits<double>::infinity();
    std::size_t nearest = 0;
    for (std::size_t k = 0; k < movers.size(); ++k) {
      const double off = farOff(movers[k], place - movers[k].at.board_mm);
      if (off >= least) continue;
      least = off;
      nearest = k;
    }
    shares[nearest].push_back(place);
    farthest_off = std::max(farthest_off, least);
  }
  return farthest_off;
}

}  // namespace

std::optional<std::vector<Proposal>> shiftedTogether(const scene::FillerMaker& maker,
                                                     std::vector<Proposal> fillers,
                                                     std::span<const glm::dvec2> places, double room_mm) {
  std::vector<Mover> movers;
  for (const Proposal& filler : fillers) movers.push_back(moverOf(maker, filler, room_mm));
  std::vector<std::vector<glm::dvec2>> shares(movers.size());
  for (int step = 0; step < most_shifts && !movers.empty(); ++step) {
    const double off = shareOut(movers, places, shares);
    if (off <= 1) {
      for (std::size_t k = 0; k < movers.size(); ++k) fillers[k] = movers[k].at;
      return fillers;
    }
    if (isHopeless(step, off)) return std::nullopt;
    for (std::size_t k = 0; k < movers.size(); ++k) settle(movers[k], shares[k]);
  }
  return std::nullopt;
}

}  // namespace petalproof::candidates
