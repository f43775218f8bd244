#include "engine/arrange/internal/arrange_anneal.h"

#include "engine/arrange/internal/arrange_room.h"
#include "engine/base/hash.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>

namespace petalproof::arrange {
namespace {

// The effort of the search, by trial: more brings hardly better walls. Work is measured in raster cells
// touched.
constexpr double first_tries = 60;                 // random spots for an item's first place
constexpr double last_tries = 2000;                // random spots for an item whose plate still meets another
constexpr double moves_an_item = 4200;             // on a wall of few panels
constexpr double further_moves_for_a_panel = 150;  // an item, as more panels are harder to suit
constexpr double few_panels = 6;
constexpr double many_panels = 24;
constexpr double least_moves = 10'000;
constexpr double most_work = 1.6e9;   // a few seconds
constexpr double work_of_item = 200;  // beside its cells
constexpr double work_of_pair = 5.0;
constexpr double most_pairs = 1e8;  // looked at for first and last tries

// The shares of the kinds of moves, each up to its limit: two blooms of a layout swap places; a bloom jumps
// anywhere; turns; else it shifts a little. By trial.
constexpr double swaps = 0.16;
constexpr double anywhere_else = 0.22;
constexpr double blooms_turn = 0.28;
constexpr double leaves_turn = 0.53;

// The cost of one per cent of bare board rises with the wall's bare share: little on a nearly full wall, so
// that blooms needn't crowd; much near the largest usual share. By trial.
constexpr double hardly_bare = 0.05;
constexpr double too_bare = 0.11;
constexpr double cost_hardly_bare = 0.4;
constexpr double cost_too_bare = 8.0;

double costOfBare(double share) {
  const double rise = std::clamp((share - hardly_bare) / (too_bare - hardly_bare), 0.0, 1.0);
  return cost_hardly_bare + (cost_too_bare - cost_hardly_bare) * rise;
}

// Numbers in [0, 1), one after the other.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : seed_(mixed(seed)) {}
  double roll() { return unitFromHash(mixed(seed_ + ++rolls_)); }
  int below(int number) { return static_cast<int>(roll() * number); }

 private:
  std::uint64_t seed_;
  std::uint64_t rolls_ = 0;
};

struct ItemAt {
  int layout = 0;
  int index = 0;
};

class Placer {
 public:
  Placer(ArrangeTask& task, std::uint64_t seed)
      : task_(task), coverage_(task.wall), dice_(seed), share_of_cell_(shareOfCell()) {
    for (const auto& outer : task.wall.outer) {
      auto& rooms = rooms_.emplace_back();
      for (const ArrangeKind& kind : task.kinds) rooms.push_back(roomsOf(kind, task.wall, outer, task.step));
    }
    for (std::size_t layout = 0; layout < task.layouts.size(); ++layout)
      for (std::size_t k = 0; k < task.layouts[layout].items.size(); ++k)
        items_.push_back({static_cast<int>(layout), static_cast<int>(k)});
    // By rank, so that large blooms of all layouts find their places first.
    std::stable_sort(items_.begin(), items_.end(),
                     [](const ItemAt& a, const ItemAt& b) { return a.index < b.index; });
  }

  void place() {
    if (items_.empty()) return;
    const int tries = triesFor(items_, first_tries);
    for (const ItemAt& at : items_) placeFirst(at, tries);
    anneal();
    std::vector<ItemAt> misplaced;
    for (const ItemAt& at : items_)
      if (plateMeetsAnother(task_, at.layout, at.index, item(at).spot)) misplaced.push_back(at);
    const int more_tries = triesFor(misplaced, last_tries);
    for (const ItemAt& at : misplaced) placeAgain(at, more_tries);
  }

 private:
  double shareOfCell() const {
    const double cell = task_.wall.cell_mm * task_.wall.cell_mm;
    return 100.0 * cell / (static_cast<double>(task_.wall.panel_width) * task_.wall.panel_height);
  }

  ArrangeItem& item(const ItemAt& at) {
    return task_.layouts[static_cast<std::size_t>(at.layout)].items[static_cast<std::size_t>(at.index)];
  }
  const ArrangeKind& kind(const ItemAt& at) { return task_.kinds[static_cast<std::size_t>(item(at).kind)]; }
  const PlateRooms& rooms(const ItemAt& at) {
    return rooms_[static_cast<std::size_t>(at.layout)][static_cast<std::size_t>(item(at).kind)];
  }
  double sitesOf(const ItemAt& at) const {
    return static_cast<double>(task_.wall.sites[static_cast<std::size_t>(at.layout)].size());
  }

  double bareShare() const { return static_cast<double>(bare_cells_) / std::max(1, coverage_.boardCells()); }

  int cover(const ItemAt& at) { return coverage_.add(at.layout, kind(at), item(at).spot); }
  int uncover(const ItemAt& at) { return coverage_.remove(at.layout, kind(at), item(at).spot); }
  double penalty(const ItemAt& at, const ArrangeSpot& spot) {
    return itemPenalty(task_, at.layout, at.index, spot, std::numeric_limits<int>::max());
  }

  ArrangeSpot randomSpot(const ItemAt& at) {
    const PlateRooms& room = rooms(at);
    const float x = anywhere(room.across, task_.step, dice_.roll());
    const float y = anywhere(room.down, task_.step, dice_.roll());
    return {x, y, dice_.below(turn_steps)};
  }

  void placeFirst(const ItemAt& at, int tries) {
    double best = std::numeric_limits<double>::infinity();
    ArrangeSpot chosen;
    for (int k = 0; k < tries; ++k) {
      const ArrangeSpot spot = randomSpot(at);
      double cost = itemPenalty(task_, at.layout, at.index, spot, at.index);
      if (cost < best) {
        const int covered = coverage_.add(at.layout, kind(at), spot);
        coverage_.remove(at.layout, kind(at), spot);
        cost -= covered * share_of_cell_;
      }
      if (cost < best) {
        best = cost;
        chosen = spot;
      }
    }
    item(at).spot = chosen;
    cover(at);
  }

  // Moves the item to the best of random spots at which its plate is clear.
  void placeAgain(const ItemAt& at, int tries) {
    double best = std::numeric_limits<double>::infinity();
    ArrangeSpot chosen = item(at).spot;
    for (int k = 0; k < tries; ++k) {
      const ArrangeSpot spot = randomSpot(at);
      if (plateMeetsAnother(task_, at.layout, at.index, spot)) continue;
      const double cost = penalty(at, spot);
      if (cost >= best) continue;
      best = cost;
      chosen = spot;
    }
    item(at).spot = chosen;
  }

  void anneal() {
    const auto moves = static_cast<std::int64_t>(numberOfMoves());
    const double sites = meanSites();
    bare_cells_ = coverage_.bareCells();
    for (std::int64_t k = 0; k < moves; ++k) {
      // The schedule, by trial: penalties allowed, reach of shifts and strictness about overlaps.
      const double left = 1.0 - static_cast<double>(k) / static_cast<double>(moves);
      warmth_ = sites * (0.04 + 8.0 * left * left);
      range_ = static_cast<float>(0.03 + 0.5 * left * left);
      task_.strictness = static_cast<float>(0.5 + 1.5 * (1.0 - left) * (1.0 - left));
      cost_of_cell_ = share_of_cell_ * costOfBare(bareShare());
      const ItemAt at = items_[static_cast<std::size_t>(dice_.below(static_cast<int>(items_.size())))];
      const double move = dice_.roll();
      if (move < swaps)
        trySwap(at);
      else
        tryMove(at, proposed(at, move));
    }
  }

  // The most items that a place of the item is compared with.
  double pairsOf(const ItemAt& at) const {
    const auto layout = static_cast<std::size_t>(at.layout);
    std::size_t pairs = task_.layouts[layout].items.size();
    for (const Beside& beside : task_.wall.besides[layout])
      pairs += task_.layouts[static_cast<std::size_t>(beside.layout)].items.size();
    return static_cast<double>(pairs);
  }

  int triesFor(const std::vector<ItemAt>& items, double wanted) const {
    double pairs = 1;
    for (const ItemAt& at : items) pairs += pairsOf(at);
    return static_cast<int>(std::clamp(most_pairs / pairs, 1.0, wanted));
  }

  double meanSites() const {
    double sites = 0;
    for (const ItemAt& at : items_) sites += sitesOf(at);
    return sites / static_cast<double>(items_.size());
  }

  // As many moves as the items need, at most those of a few seconds, times the request's care.
  double numberOfMoves() {
    double work = 0;
    for (const ItemAt& at : items_) {
      const double radius = kind(at).radius / task_.wall.cell_mm;
      work += sitesOf(at) * (2.0 * pi * radius * kind(at).width / 2 / task_.wall.cell_mm + work_of_item);
      work += work_of_pair * pairsOf(at);
    }
    const auto number = static_cast<double>(items_.size());
    const double affordable = most_work * number / std::max(1.0, work);
    double panels = 0;
    for (const auto& sites : task_.wall.sites) panels += static_cast<double>(sites.size());
    const double further = std::clamp(panels - few_panels, 0.0, many_panels - few_panels);
    const double wanted = (moves_an_item + further_moves_for_a_panel * further) * number;
    return task_.care * std::min(std::max(wanted, least_moves), affordable);
  }

  // The spot that a move proposes; `move` is a number in [swaps, 1).
  ArrangeSpot proposed(const ItemAt& at, double move) {
    const ArrangeSpot& now = item(at).spot;
    const int turned = dice_.below(turn_steps);
    if (move < anywhere_else) return randomSpot(at);
    if (move < (kind(at).greenery ? leaves_turn : blooms_turn)) return {now.x, now.y, turned};
    const float side = std::min(task_.wall.panel_width, task_.wall.panel_height) * range_;
    const auto shift = [&] { return side * static_cast<float>(dice_.roll() + dice_.roll() - 1.0); };
    const float x = inRoom(rooms(at).across, task_.step, now.x + shift());
    const float y = inRoom(rooms(at).down, task_.step, now.y + shift());
    const bool turns = kind(at).greenery && move > 0.8;
    return {x, y, turns ? (now.turn + (move > 0.9 ? 1 : turn_steps - 1)) % turn_steps : now.turn};
  }

  double threshold() {
    const double u = dice_.roll();
    return warmth_ * 0.6 * (1.0 - u) / (u + 0.1);
  }

  void tryMove(const ItemAt& at, const ArrangeSpot& to) {
    const double most = threshold();
    const double cells =
        pi * kind(at).radius * kind(at).width / 2 / (task_.wall.cell_mm * task_.wall.cell_mm);
    const double too_much = most + cells * sitesOf(at) * cost_of_cell_;  // refused whatever the item covers
    const double now = penalty(at, item(at).spot);
    const double cost = itemPenalty(task_, at.layout, at.index, to, std::numeric_limits<int>::max(),
                                    static_cast<float>(now + too_much)) -
                        now;
    if (cost > too_much) return;
    const ArrangeSpot from = item(at).spot;
    int bare = uncover(at);
    item(at).spot = to;
    bare -= cover(at);
    if (cost + bare * cost_of_cell_ <= most) {
      bare_cells_ += bare;
      return;
    }
    uncover(at);
    item(at).spot = from;
    cover(at);
  }

  void trySwap(const ItemAt& a) {
    const auto number = static_cast<int>(task_.layouts[static_cast<std::size_t>(a.layout)].items.size());
    const ItemAt b{a.layout, dice_.below(number)};
    if (item(a).kind == item(b).kind) return;
    const ArrangeSpot from_a = item(a).spot;
    const ArrangeSpot from_b = item(b).spot;
    double cost = -penalty(a, from_a) - penalty(b, from_b);
    int bare = uncover(a) + uncover(b);
    item(a).spot = swapped(a, from_a, from_b);
    item(b).spot = swapped(b, from_b, from_a);
    cost += penalty(a, item(a).spot) + penalty(b, item(b).spot);
    bare -= cover(a) + cover(b);
    if (cost + bare * cost_of_cell_ <= threshold()) {
      bare_cells_ += bare;
      return;
    }
    uncover(a);
    uncover(b);
    item(a).spot = from_a;
    item(b).spot = from_b;
    cover(a);
    cover(b);
  }

  ArrangeSpot swapped(const ItemAt& at, const ArrangeSpot& from, const ArrangeSpot& to) {
    return {inRoom(rooms(at).across, task_.step, to.x), inRoom(rooms(at).down, task_.step, to.y), from.turn};
  }

  ArrangeTask& task_;
  Coverage coverage_;
  Dice dice_;
  double share_of_cell_;  // per cent of a panel
  double cost_of_cell_ = 0;
  int bare_cells_ = 0;
  std::vector<std::vector<PlateRooms>> rooms_;  // by layout and kind
  std::vector<ItemAt> items_;
  double warmth_ = 0;
  float range_ = 0;
};

// Takes out the smallest blooms of layouts whose plates can't all be clear of each other, however they lie.
std::vector<LeftOut> takeOutSurplus(ArrangeTask& task) {
  constexpr float densest = 0.8F;  // share of the board under plates
  const float board = task.wall.panel_width * task.wall.panel_height;
  std::vector<LeftOut> left_out;
  for (std::size_t layout = 0; layout < task.layouts.size(); ++layout) {
    auto& items = task.layouts[layout].items;
    float plates = 0;
    std::size_t kept = 0;
    for (const ArrangeItem& item : items) {
      const float radius = task.kinds[static_cast<std::size_t>(item.kind)].plate_radius;
      plates += static_cast<float>(pi) * radius * radius;
      if (kept > 0 && plates > densest * board) break;
      ++kept;
    }
    for (std::size_t k = kept; k < items.size(); ++k)
      left_out.push_back({static_cast<int>(layout), items[k].kind});
    items.resize(kept);
  }
  return left_out;
}

// Takes out items whose plate meets another, the smallest first: of two such plates the smaller bloom goes.
std::vector<LeftOut> takeOutMisplaced(ArrangeTask& task) {
  std::vector<LeftOut> left_out;
  for (std::size_t layout = 0; layout < task.layouts.size(); ++layout) {
    auto& items = task.layouts[layout].items;
    for (std::size_t k = items.size(); k-- > 0;) {
      const int at = static_cast<int>(layout);
      if (!plateMeetsAnother(task, at, static_cast<int>(k), items[k].spot)) continue;
      left_out.push_back({at, items[k].kind});
      items.erase(items.begin() + static_cast<std::ptrdiff_t>(k));
    }
  }
  return left_out;
}

}  // namespace

std::vector<LeftOut> placeItems(ArrangeTask& task, std::uint64_t seed) {
  std::vector<LeftOut> left_out = takeOutSurplus(task);
  Placer(task, seed).place();
  const std::vector<LeftOut> misplaced = takeOutMisplaced(task);
  left_out.insert(left_out.end(), misplaced.begin(), misplaced.end());
  return left_out;
}

}  // namespace petalproof::arrange
