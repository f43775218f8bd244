#include "engine/arrange/internal/arrange_shares.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>

namespace petalproof::arrange {
namespace {

constexpr double impossible = std::numeric_limits<double>::infinity();
// By trial.
constexpr int most_evening = 4;          // divisions made only to fill panels equally
constexpr double uneven_panels = 0.08;   // standard deviation of fullness above which such a division is made
constexpr double worthwhile = 0.7;       // such a division must reduce the deviation to this share
constexpr int most_cells_evened = 2000;  // larger walls would take long
constexpr int most_tries = 4000;         // divisions tried for each that is made
constexpr std::size_t most_sizes_tried = 6;  // of parts to split off for a row

bool mayTake(const CellGroup& group, const Wanted& row) {
  return row.layout < 0 || row.layout == group.layout;
}

int cellsFor(const std::vector<CellGroup>& groups, const Wanted& row) {
  int cells = 0;
  for (const CellGroup& group : groups)
    if (mayTake(group, row)) cells += group.cells;
  return cells;
}

// The numbers that a cell may get: close to the equal share.
struct Range {
  int least = 0;
  int most = 0;
};

Range rangeOf(const Wanted& row, int cells) {
  const int cell_count = std::max(1, cells);
  const int share = row.on_wall / cell_count;
  if (row.evenly) return {share, share + (row.on_wall % cell_count == 0 ? 0 : 1)};
  return {std::max(0, share - 1), share + (row.on_wall % cell_count == 0 ? 1 : 2)};
}

// Whether each sum can be dealt beyond the least numbers, from 0 to the row's remaining blooms.
std::vector<char> reachable(const std::vector<CellGroup>& groups, const Wanted& row, int cells) {
  const Range range = rangeOf(row, cells);
  const int remaining = row.on_wall - range.least * cells;
  std::vector<char> can(static_cast<std::size_t>(remaining) + 1, 0);
  can[0] = 1;
  for (const CellGroup& group : groups) {
    if (!mayTake(group, row)) continue;
    for (int sum = remaining; sum > 0; --sum)
      for (int extra = 1; extra <= range.most - range.least && !can[static_cast<std::size_t>(sum)]; ++extra)
        if (sum >= extra * group.cells && can[static_cast<std::size_t>(sum - extra * group.cells)])
          can[static_cast<std::size_t>(sum)] = 1;
  }
  return can;
}

bool canDeal(const std::vector<CellGroup>& groups, const Wanted& row) {
  const int cells = cellsFor(groups, row);
  return cells == 0 || reachable(groups, row, cells).back() != 0;
}

int dealable(const std::vector<CellGroup>& groups, const std::vector<Wanted>& rows) {
  return static_cast<int>(
      std::count_if(rows.begin(), rows.end(), [&](const Wanted& row) { return canDeal(groups, row); }));
}

std::vector<CellGroup> divided(std::vector<CellGroup> groups, std::size_t group, int off) {
  groups[group].cells -= off;
  groups.push_back({groups[group].layout, off});
  return groups;
}

struct Division {
  std::size_t group = 0;
  int off = 0;
  int helps = 0;  // rows that can be dealt after it
};

// The sizes of parts that, split off, would let a row be dealt exactly.
std::vector<int> lacking(const std::vector<CellGroup>& groups, const Wanted& row) {
  const std::vector<char> can = reachable(groups, row, cellsFor(groups, row));
  const int remaining = static_cast<int>(can.size()) - 1;
  std::vector<int> sizes;
  for (int sum = remaining; sum >= 0 && sizes.size() < most_sizes_tried; --sum)
    if (can[static_cast<std::size_t>(sum)]) sizes.push_back(remaining - sum);
  return sizes;
}

Division bestDivision(const std::vector<CellGroup>& groups, const std::vector<Wanted>& missing) {
  Division best;
  best.helps = -1;
  int tries = 0;
  for (const Wanted& row : missing)
    for (const int off : lacking(groups, row))
      for (std::size_t g = 0; g < groups.size(); ++g) {
        if (!mayTake(groups[g], row) || off >= groups[g].cells || ++tries > most_tries) continue;
        const int helps = dealable(divided(groups, g, off), missing);
        // Of equally helpful divisions, the more even: fewer panels stand out.
        const bool evener =
            helps == best.helps &&
            std::min(off, groups[g].cells - off) > std::min(best.off, groups[best.group].cells - best.off);
        if (helps > best.helps || evener) best = {g, off, helps};
      }
  return best;
}

// Deals a row to the groups at the least cost, by dynamic programming over the groups.
class RowDealer {
 public:
  RowDealer(const std::vector<CellGroup>& groups, const Wanted& row, const std::vector<double>& fullness)
      : groups_(groups), row_(row), fullness_(fullness), cells_(cellsFor(groups, row)) {}

  std::vector<int> deal() {
    std::vector<int> shares(groups_.size(), 0);
    if (cells_ == 0) return shares;
    range_ = rangeOf(row_, cells_);
    rest_ = row_.on_wall - range_.least * cells_;
    target_ = targetFullness();
    std::vector<double> cost(static_cast<std::size_t>(rest_) + 1, impossible);
    cost[0] = 0;
    for (std::size_t g = 0; g < groups_.size(); ++g) chosen_.push_back(addGroup(g, cost));
    int sum = rest_;
    for (std::size_t g = groups_.size(); g-- > 0;) {
      if (!mayTake(groups_[g], row_)) continue;
      const int extra = chosen_[g][static_cast<std::size_t>(sum)];
      shares[g] = range_.least + extra;
      sum -= extra * groups_[g].cells;
    }
    return shares;
  }

 private:
  double targetFullness() const {
    double sum = row_.on_wall * row_.panel_share;
    for (std::size_t g = 0; g < groups_.size(); ++g)
      if (mayTake(groups_[g], row_)) sum += fullness_[g] * groups_[g].cells;
    return sum / cells_;
  }

  double costOf(std::size_t g, int share) const {
    const double full = fullness_[g] + share * row_.panel_share - target_;
    const double uneven = share - static_cast<double>(row_.on_wall) / cells_;
    const double avoidable = std::max(0.0, std::abs(uneven) - 1.0);  // beyond rounding
    // Equal fullness matters most; the two weights only decide between equally full panels. By trial.
    return groups_[g].cells * (full * full + 0.02 * uneven * uneven + 0.2 * avoidable);
  }

  std::vector<signed char> addGroup(std::size_t g, std::vector<double>& cost) const {
    std::vector<signed char> chosen(cost.size(), 0);
    if (!mayTake(groups_[g], row_)) return chosen;
    std::vector<double> next(cost.size(), impossible);
    for (int extra = 0; extra <= range_.most - range_.least; ++extra) {
      const double added = costOf(g, range_.least + extra);
      const auto taken = static_cast<std::size_t>(extra) * static_cast<std::size_t>(groups_[g].cells);
      for (std::size_t sum = taken; sum < cost.size(); ++sum)
        if (cost[sum - taken] + added < next[sum]) {
          next[sum] = cost[sum - taken] + added;
          chosen[sum] = static_cast<signed char>(extra);
        }
    }
    cost = std::move(next);
    return chosen;
  }

  const std::vector<CellGroup>& groups_;
  const Wanted& row_;
  const std::vector<double>& fullness_;
  int cells_;
  Range range_;
  int rest_ = 0;
  double target_ = 0;
  std::vector<std::vector<signed char>> chosen_;
};

}  // namespace

std::vector<std::vector<int>> sharesOf(const std::vector<CellGroup>& groups,
                                       const std::vector<Wanted>& wanted) {
  std::vector<std::size_t> order(wanted.size());
  for (std::size_t k = 0; k < order.size(); ++k) order[k] = k;
  // Rows tied to a layout and large blooms come first: small and free blooms then even the panels out.
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    if ((wanted[a].layout >= 0) != (wanted[b].layout >= 0)) return wanted[a].layout >= 0;
    return wanted[a].panel_share > wanted[b].panel_share;
  });
  std::vector<double> fullness(groups.size(), 0);
  std::vector<std::vector<int>> shares(wanted.size());
  for (const std::size_t k : order) {
    shares[k] = RowDealer(groups, wanted[k], fullness).deal();
    for (std::size_t g = 0; g < groups.size(); ++g) fullness[g] += shares[k][g] * wanted[k].panel_share;
  }
  return shares;
}

namespace {

// The standard deviation of the panels' fullness, in panels.
double unevenness(const std::vector<CellGroup>& groups, const std::vector<Wanted>& wanted) {
  const auto shares = sharesOf(groups, wanted);
  std::vector<double> fullness(groups.size(), 0);
  for (std::size_t k = 0; k < wanted.size(); ++k)
    for (std::size_t g = 0; g < groups.size(); ++g) fullness[g] += shares[k][g] * wanted[k].panel_share;
  double sum = 0;
  double cells = 0;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    sum += groups[g].cells * fullness[g];
    cells += groups[g].cells;
  }
  double squares = 0;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    const double off = fullness[g] - sum / cells;
    squares += groups[g].cells * off * off;
  }
  return std::sqrt(squares / cells);
}

// The division after which the panels are the most equally full.
std::vector<CellGroup> evenlyDivided(const std::vector<CellGroup>& groups, const std::vector<Wanted>& wanted,
                                     double& least) {
  constexpr int most_sizes = 10;  // tried for each group, so that the time stays bounded
  std::vector<CellGroup> best = groups;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    const int half = groups[g].cells / 2;
    for (int k = 1; k <= std::min(half, most_sizes); ++k) {
      const int off = half <= most_sizes ? k : half * k / most_sizes;
      std::vector<CellGroup> tried = divided(groups, g, off);
      const double uneven = unevenness(tried, wanted);
      if (uneven >= least) continue;
      least = uneven;
      best = std::move(tried);
    }
  }
  return best;
}

}  // namespace

std::vector<CellGroup> dividedGroups(std::vector<CellGroup> groups, const std::vector<Wanted>& wanted) {
  while (true) {
    std::vector<Wanted> missing;
    for (const Wanted& row : wanted)
      if (!canDeal(groups, row)) missing.push_back(row);
    if (missing.empty()) break;
    const Division best = bestDivision(groups, missing);
    if (best.helps < 0) return groups;
    groups = divided(std::move(groups), best.group, best.off);
  }
  int cells = 0;
  for (const CellGroup& group : groups) cells += group.cells;
  if (cells > most_cells_evened) return groups;
  double uneven = unevenness(groups, wanted);
  for (int k = 0; k < most_evening && uneven > uneven_panels; ++k) {
    double least = worthwhile * uneven;
    std::vector<CellGroup> evener = evenlyDivided(groups, wanted, least);
    if (evener.size() == groups.size()) break;
    groups = std::move(evener);
    uneven = least;
  }
  return groups;
}

}  // namespace petalproof::arrange
