#include "engine/arrange/internal/arrange_board.h"

#include "engine/arrange/internal/arrange_rules.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace petalproof::arrange {
namespace {

// By trial, as the penalties of arrange_rules.cc.
constexpr std::size_t most_near = 16;  // a crowd has no rows that anybody sees
constexpr float one_colour = 3.0F;     // rows of a single colour catch the eye this much more
constexpr float rows_from = 0.7F;      // strictness; before, blooms are still far from their places
constexpr float most_liked = 6.0F;     // the most that neighbours on other panels take off a penalty
constexpr float across_panels = 1.4F;  // neighbours across a seam count more: they are harder to suit

const ArrangeKind& kindOf(const ArrangeTask& task, const ArrangeItem& item) {
  return task.kinds[static_cast<std::size_t>(item.kind)];
}

ArrangeSpot seenFrom(const ArrangeSpot& spot, const Beside& beside) {
  if (!beside.upside_down) return {beside.dx + spot.x, beside.dy + spot.y, spot.turn};
  return {beside.dx - spot.x, beside.dy - spot.y, (spot.turn + turn_steps / 2) % turn_steps};
}

// Whether two blooms are too far apart for any penalty: most pairs are, so the test pays.
bool apart(const ArrangeKind& a, const ArrangeSpot& spot_a, const ArrangeKind& b, const ArrangeSpot& spot_b) {
  const float dx = spot_a.x - spot_b.x;
  const float dy = spot_a.y - spot_b.y;
  const float reach = pair_reach * (a.radius + b.radius) + pair_reach_mm;
  return dx * dx + dy * dy > reach * reach;
}

float between(const ArrangeTask& task, const ArrangeKind& a, const ArrangeSpot& spot_a, const ArrangeKind& b,
              const ArrangeSpot& spot_b) {
  return apart(a, spot_a, b, spot_b) ? 0.0F : pairPenalty(a, spot_a, b, spot_b, task.strictness);
}

// Whether the spot is out of reach of all blooms that may hang over the edges of that panel.
bool farFrom(const ArrangeTask& task, const ArrangeSpot& spot, float reach, const Beside& beside) {
  const float x = std::abs(spot.x - beside.dx) - task.wall.panel_width / 2;
  const float y = std::abs(spot.y - beside.dy) - task.wall.panel_height / 2;
  return x > reach || y > reach;
}

float rowsWith(const ArrangeTask& task, const ArrangeLayout& layout, int index, const ArrangeSpot& spot,
               int placed) {
  const ArrangeItem& item = layout.items[static_cast<std::size_t>(index)];
  const ArrangeKind& kind = kindOf(task, item);
  if (kind.greenery) return 0;
  std::array<const ArrangeItem*, most_near> near;
  std::size_t found = 0;
  for (int k = 0; k < placed; ++k) {
    const ArrangeItem& candidate = layout.items[static_cast<std::size_t>(k)];
    const ArrangeKind& candidate_kind = kindOf(task, candidate);
    if (k == index || candidate_kind.greenery) continue;
    const float dx = candidate.spot.x - spot.x;
    const float dy = candidate.spot.y - spot.y;
    const float reach = 1.5F * (kind.diameter + candidate_kind.diameter);
    if (dx * dx + dy * dy < reach * reach) near[found++] = &candidate;
    if (found == most_near) break;
  }
  float penalty = 0;
  for (std::size_t j = 0; j < found; ++j)
    for (std::size_t k = j + 1; k < found; ++k)
      penalty += rowPenalty(kind, spot, kindOf(task, *near[j]), near[j]->spot, kindOf(task, *near[k]),
                            near[k]->spot);
  return penalty;
}

// Collects the blooms of like colour and size around a spot, on all panels, to find rows across seams.
class Alike {
 public:
  Alike(const ArrangeKind& kind, const ArrangeSpot& spot) : kind_(kind), spot_(spot) {}

  // `times`: on how many panels. `across`: on another panel than the spot.
  void add(const ArrangeKind& other, const ArrangeSpot& at, float times, bool across) {
    if (found_ == near_.size() || kind_.greenery || other.greenery) return;
    const float dx = at.x - spot_.x;
    const float dy = at.y - spot_.y;
    const float reach = 1.2F * (kind_.diameter + other.diameter);
    if (dx * dx + dy * dy > reach * reach || !rowsTogether(kind_, other)) return;
    near_[found_++] = {&other, at.x, at.y, times, across};
  }

  // Straight rows that go over a seam.
  float rowsAcross() const {
    float penalty = 0;
    for (std::size_t j = 0; j < found_; ++j)
      for (std::size_t k = j + 1; k < found_; ++k) {
        const Seen& a = near_[j];
        const Seen& b = near_[k];
        if (!a.across && !b.across) continue;
        penalty +=
            std::min(a.times, b.times) * rowPenalty(kind_, spot_, *a.kind, a.spot(), *b.kind, b.spot());
      }
    return one_colour * penalty;
  }

 private:
  struct Seen {
    const ArrangeKind* kind;
    float x;
    float y;
    float times;
    bool across;
    ArrangeSpot spot() const { return {x, y, 0}; }
  };
  const ArrangeKind& kind_;
  ArrangeSpot spot_;
  std::array<Seen, most_near> near_;
  std::size_t found_ = 0;
};

float heartPenalty(const ArrangeTask& task, const ArrangeLayout& layout, const ArrangeSpot& spot) {
  const float dx = (spot.x - layout.heart_x) / task.wall.panel_width;
  const float dy = (spot.y - layout.heart_y) / task.wall.panel_height;
  const float off = dx * dx + dy * dy;
  constexpr float near_enough = 0.002F;  // squared distance, in panels, without a penalty
  constexpr float weight = 150.0F;
  return weight * std::max(0.0F, off - near_enough);
}

}  // namespace

float itemPenalty(const ArrangeTask& task, int layout, int index, const ArrangeSpot& spot, int placed,
                  float too_much) {
  const auto at = static_cast<std::size_t>(layout);
  const ArrangeLayout& own = task.layouts[at];
  const ArrangeKind& kind = kindOf(task, own.items[static_cast<std::size_t>(index)]);
  const int own_placed = std::min(placed, static_cast<int>(own.items.size()));
  const auto sites = static_cast<float>(task.wall.sites[at].size());
  const bool rows_matter = task.strictness > rows_from;
  Alike alike(kind, spot);
  float alone = index == 0 ? heartPenalty(task, own, spot) : 0.0F;
  for (int k = 0; k < own_placed; ++k) {
    if (k == index) continue;
    const ArrangeItem& other = own.items[static_cast<std::size_t>(k)];
    alone += between(task, kind, spot, kindOf(task, other), other.spot);
    if (rows_matter) alike.add(kindOf(task, other), other.spot, sites, false);
  }
  float penalty = alone * sites + edgePenalty(kind, spot, task.wall, task.wall.outer[at]);
  if (penalty - most_liked * sites > too_much) return penalty;
  if (rows_matter) penalty += rowsWith(task, own, index, spot, own_placed) * sites;
  for (const Beside& beside : task.wall.besides[at]) {
    if (farFrom(task, spot, kind.radius + 1.3F * task.largest_radius, beside)) continue;
    const auto& items = task.layouts[static_cast<std::size_t>(beside.layout)].items;
    const int there = std::min(placed, static_cast<int>(items.size()));
    for (int k = 0; k < there; ++k) {
      const ArrangeItem& other = items[static_cast<std::size_t>(k)];
      const bool itself = beside.layout == layout && k == index;
      const ArrangeSpot seen = seenFrom(itself ? spot : other.spot, beside);
      penalty += across_panels * beside.times * between(task, kind, spot, kindOf(task, other), seen);
      if (rows_matter) alike.add(kindOf(task, other), seen, beside.times, true);
    }
  }
  return penalty + alike.rowsAcross();
}

double bareShare(const ArrangeTask& task) {
  Coverage coverage(task.wall);
  for (std::size_t layout = 0; layout < task.layouts.size(); ++layout)
    for (const ArrangeItem& item : task.layouts[layout].items)
      coverage.add(static_cast<int>(layout), kindOf(task, item), item.spot);
  return static_cast<double>(coverage.bareCells()) / std::max(1, coverage.boardCells());
}

bool plateMeetsAnother(const ArrangeTask& task, int layout, int index, const ArrangeSpot& spot) {
  const auto at = static_cast<std::size_t>(layout);
  const ArrangeLayout& own = task.layouts[at];
  const ArrangeKind& kind = kindOf(task, own.items[static_cast<std::size_t>(index)]);
  const float slack_x = task.wall.panel_width / 2 - kind.plate_radius - std::abs(spot.x);
  const float slack_y = task.wall.panel_height / 2 - kind.plate_radius - std::abs(spot.y);
  if (slack_x < -1e-3F || slack_y < -1e-3F) return true;
  for (std::size_t k = 0; k < own.items.size(); ++k)
    if (static_cast<int>(k) != index &&
        plateLack(kind, spot, kindOf(task, own.items[k]), own.items[k].spot) > 0)
      return true;
  for (const Beside& beside : task.wall.besides[at]) {
    const auto& items = task.layouts[static_cast<std::size_t>(beside.layout)].items;
    for (std::size_t k = 0; k < items.size(); ++k) {
      const bool itself = beside.layout == layout && static_cast<int>(k) == index;
      const ArrangeSpot seen = seenFrom(itself ? spot : items[k].spot, beside);
      if (plateLack(kind, spot, kindOf(task, items[k]), seen) > 0) return true;
    }
  }
  return false;
}

}  // namespace petalproof::arrange
