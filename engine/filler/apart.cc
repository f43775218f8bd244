#include "engine/filler/cover.h"
#include "engine/filler/internal/lists.h"
#include "engine/filler/internal/random_steps.h"

#include <algorithm>
#include <numeric>
#include <optional>

namespace petalproof {
namespace {

constexpr std::uint64_t moves_between_looks = 64;
constexpr std::uint64_t moves_between_jolts = 500;

class ApartSearch {
 public:
  ApartSearch(const std::vector<std::vector<std::uint32_t>>& neighbours, std::uint64_t seed)
      : neighbours_(neighbours),
        random_(seed),
        touching_(neighbours.size(), 0),
        barred_until_(neighbours.size(), 0),
        taken_(size()),
        free_(size()),
        nearly_(size()) {
    for (std::uint32_t place = 0; place < size(); ++place) free_.take(place);
    fillFewestNeighboursFirst();
  }

  // Into what is free; else for the one place in the way; else for whatever is in the way.
  void move() {
    ++now_;
    if (!free_.empty()) {
      put(anyOf(free_));
      return;
    }
    const bool stay = !nearly_.empty() && now_ % moves_between_jolts != 0;
    const auto swap = stay ? notBarred(nearly_) : std::nullopt;
    makeRoomAndPut(swap ? *swap : random_.below(size()));
  }
  const std::vector<std::uint32_t>& best() const { return best_; }

 private:
  std::uint32_t size() const { return static_cast<std::uint32_t>(neighbours_.size()); }
  std::uint32_t anyOf(const IndexPool& pool) { return pool.members()[random_.below(pool.members().size())]; }
  std::optional<std::uint32_t> notBarred(const IndexPool& pool) {
    for (int tries = 0; tries < 8; ++tries)
      if (const std::uint32_t place = anyOf(pool); barred_until_[place] <= now_) return place;
    return std::nullopt;
  }
  void fillFewestNeighboursFirst() {
    std::vector<std::uint32_t> order(size());
    std::iota(order.begin(), order.end(), 0U);
    std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
      return neighbours_[a].size() < neighbours_[b].size();
    });
    for (const std::uint32_t place : order)
      if (free_.holds(place)) put(place);
  }
  void makeRoomAndPut(std::uint32_t place) {
    if (taken_.holds(place)) return;
    for (const std::uint32_t other : neighbours_[place])
      if (taken_.holds(other)) leave(other);
    put(place);
  }
  // The pools follow how many taken neighbours a place has.
  void sortIn(std::uint32_t place) {
    set(free_, place, !taken_.holds(place) && touching_[place] == 0);
    set(nearly_, place, !taken_.holds(place) && touching_[place] == 1);
  }
  static void set(IndexPool& pool, std::uint32_t place, bool in) {
    if (in == pool.holds(place)) return;
    if (in)
      pool.take(place);
    else
      pool.give(place);
  }
  void put(std::uint32_t place) {
    taken_.take(place);
    sortIn(place);
    for (const std::uint32_t other : neighbours_[place]) {
      ++touching_[other];
      sortIn(other);
    }
    if (taken_.members().size() > best_.size()) best_ = taken_.members();
  }
  void leave(std::uint32_t place) {
    taken_.give(place);
    sortIn(place);
    for (const std::uint32_t other : neighbours_[place]) {
      --touching_[other];
      sortIn(other);
    }
    barred_until_[place] = now_ + 3 + random_.below(7);
  }

  const std::vector<std::vector<std::uint32_t>>& neighbours_;
  RandomSteps random_;
  std::uint64_t now_ = 0;
  std::vector<std::uint32_t> touching_;  // how many taken neighbours
  std::vector<std::uint64_t> barred_until_;
  IndexPool taken_;
  IndexPool free_;    // not taken, no neighbour taken
  IndexPool nearly_;  // not taken, one neighbour taken
  std::vector<std::uint32_t> best_;
};

}  // namespace

std::vector<std::uint32_t> largestApart(const std::vector<std::vector<std::uint32_t>>& neighbours,
                                        std::uint64_t seed, std::uint64_t moves,
                                        const std::function<bool()>& cancelled) {
  if (neighbours.empty()) return {};
  ApartSearch search(neighbours, seed);
  for (std::uint64_t made = 0; made < moves; ++made) {
    if (made % moves_between_looks == 0 && cancelled && cancelled()) break;
    search.move();
  }
  std::vector<std::uint32_t> apart = search.best();
  std::sort(apart.begin(), apart.end());
  return apart;
}

}  // namespace petalproof
