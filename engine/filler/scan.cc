#include "engine/filler/internal/scan.h"

#include "engine/base/hash.h"
#include "engine/base/threads.h"
#include "engine/filler/internal/silhouette.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace petalproof {
namespace {

struct CellOffset {
  int column = 0;
  int row = 0;
  double height_mm = 0;  // about
};

// A dome's: high in the middle, down to a third at the rim.
double domeHeight(const FillerKind& kind, double from_axis) {
  const double share = std::min(1.0, 2 * from_axis / kind.diameter_mm);
  return kind.depth_mm * (1 - 0.66 * share * share);
}

// Cells that a kind covers seen head-on, from the cell of its axis.
std::vector<CellOffset> stampOf(const FillerKind& kind, double turn_deg, double cell) {
  const double a = radians(turn_deg);
  const glm::mat4x3 turned(glm::dmat4x3(std::cos(a), -std::sin(a), 0.0, std::sin(a), std::cos(a), 0.0, 0.0,
                                        0.0, 1.0, 0.0, 0.0, 0.0));
  const Silhouette seen = silhouetteHeadOn(kind.copies.front(), turned);
  std::vector<CellOffset> stamp;
  for (int row = static_cast<int>(std::floor(seen.min_mm.y / cell)); row <= seen.max_mm.y / cell; ++row)
    for (int column = static_cast<int>(std::floor(seen.min_mm.x / cell)); column <= seen.max_mm.x / cell;
         ++column)
      if (hides(seen, {column * cell, row * cell}))
        stamp.push_back({column, row, domeHeight(kind, std::hypot(column * cell, row * cell))});
  return stamp;
}

struct Pose {
  std::size_t kind = 0;
  int turn_deg = 0;
  bool any_turn = false;  // how it is turned makes no difference
  std::vector<CellOffset> stamp;
};

// Whether it makes a difference how it is turned: it fills little of the disc that it turns in.
bool turnMatters(const FillerKind& kind, double cell) {
  constexpr double full = 0.6;
  const double cells = pi * kind.diameter_mm * kind.diameter_mm / 4 / (cell * cell);
  return static_cast<double>(stampOf(kind, 0, cell).size()) < full * cells;
}

std::vector<Pose> posesOf(const FillerMaker& maker, const ScanOptions& options, double cell) {
  std::vector<Pose> poses;
  for (std::size_t kind = 0; kind < maker.kinds().size(); ++kind) {
    const FillerKind& one = maker.kinds()[kind];
    const int turns = turnMatters(one, cell) ? options.turns : 1;
    for (int turn = 0; turn < turns; ++turn)
      poses.push_back({kind, 360 * turn / turns, turns == 1, stampOf(one, 360.0 * turn / turns, cell)});
  }
  return poses;
}

float worthOf(const Pose& pose, const WantedMap& wanted, int column, int row) {
  float worth = 0;
  for (const CellOffset& offset : pose.stamp) {
    const int c = column + offset.column;
    const int r = row + offset.row;
    if (c >= 0 && r >= 0 && c < wanted.columns() && r < wanted.rows()) worth += wanted.at(c, r);
  }
  return worth;
}

bool likelyBarred(const Pose& pose, const Sites& sites, double diameter, glm::dvec2 at, double cell) {
  return std::any_of(pose.stamp.begin(), pose.stamp.end(), [&](const CellOffset& offset) {
    return sites.inLargerInnerHalf(at + glm::dvec2(offset.column, offset.row) * cell, offset.height_mm,
                                   diameter);
  });
}

struct Scored {
  float worth = 0;
  std::uint32_t pose = 0;
  std::int32_t x = 0;  // steps
  std::int32_t y = 0;
};

// Large kinds are looked at in larger steps.
std::vector<int> stepsOf(const FillerMaker& maker, const ScanOptions& options) {
  std::vector<int> every;
  for (const FillerKind& kind : maker.kinds())
    every.push_back(std::max(1, static_cast<int>(kind.width_mm / 24 / options.pitch_mm)));
  return every;
}

std::vector<Scored> scoreRow(const std::vector<Pose>& poses, const FillerMaker& maker, const Sites& sites,
                             const WantedMap& wanted, const ScanOptions& options, int y) {
  std::vector<Scored> row;
  const double width = sites.grid().x.at(sites.grid().x.count() - 1);
  std::vector<char> fits(maker.kinds().size());
  const std::vector<int> every = stepsOf(maker, options);
  for (int x = 0; x * options.pitch_mm <= width; ++x) {
    const glm::dvec2 at{x * options.pitch_mm, y * options.pitch_mm};
    for (std::size_t kind = 0; kind < fits.size(); ++kind)
      fits[kind] = x % every[kind] == 0 && y % every[kind] == 0 &&
                           sites.barsPlate(maker.kinds()[kind], at).by == Bar::none
                       ? 1
                       : 0;
    for (std::size_t pose = 0; pose < poses.size(); ++pose) {
      if (fits[poses[pose].kind] == 0) continue;
      const float worth =
          worthOf(poses[pose], wanted, static_cast<int>(std::round(at.x / wanted.cell_mm() - 0.5)),
                  static_cast<int>(std::round(at.y / wanted.cell_mm() - 0.5)));
      if (worth <= options.least_worth ||
          likelyBarred(poses[pose], sites, maker.kinds()[poses[pose].kind].diameter_mm, at, wanted.cell_mm()))
        continue;
      row.push_back({worth, static_cast<std::uint32_t>(pose), x, y});
    }
  }
  return row;
}

// Round blooms come in any turn: one that looks chosen by hand.
int anyTurn(std::uint64_t seed, const Scored& one) {
  return static_cast<int>(
      hashOf({seed, one.pose, static_cast<std::uint64_t>(one.x), static_cast<std::uint64_t>(one.y)}) % 360);
}

// Takes what serves a cell that hasn't enough yet, best first.
class CellShares {
 public:
  CellShares(const WantedMap& wanted, int each)
      : wanted_(wanted),
        each_(each),
        served_(static_cast<std::size_t>(wanted.columns()) * static_cast<std::size_t>(wanted.rows()), 0) {}
  bool take(const Pose& pose, int column, int row) {
    int cells = 0;
    int wanting = 0;
    bool hardly_served = false;
    forEachWanted(pose, column, row, [&](std::uint16_t& served) {
      ++cells;
      wanting += served < each_ ? 1 : 0;
      hardly_served = hardly_served || served < few;
    });
    if (!hardly_served && wanting * 6 < cells) return false;
    if (wanting > 0) forEachWanted(pose, column, row, [](std::uint16_t& served) { ++served; });
    return wanting > 0;
  }

 private:
  template <class Visit>
  void forEachWanted(const Pose& pose, int column, int row, const Visit& visit) {
    for (const CellOffset& offset : pose.stamp) {
      const int c = column + offset.column;
      const int r = row + offset.row;
      if (c < 0 || r < 0 || c >= wanted_.columns() || r >= wanted_.rows() || wanted_.at(c, r) <= 0) continue;
      visit(served_[static_cast<std::size_t>(r) * static_cast<std::size_t>(wanted_.columns()) +
                    static_cast<std::size_t>(c)]);
    }
  }
  static constexpr std::uint16_t few = 3;
  const WantedMap& wanted_;
  int each_;
  std::vector<std::uint16_t> served_;
};

}  // namespace

WantedMap::WantedMap(const PlaceGrid& grid, double cell_mm)
    : cell_mm_(cell_mm),
      columns_(static_cast<int>(grid.x.at(grid.x.count() - 1) / cell_mm) + 1),
      rows_(static_cast<int>(grid.y.at(grid.y.count() - 1) / cell_mm) + 1) {
  clear();
}

void WantedMap::clear() {
  worth_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), 0);
}

void WantedMap::add(glm::dvec2 place, float worth) {
  const int column = std::clamp(static_cast<int>(std::floor(place.x / cell_mm_)), 0, columns_ - 1);
  const int row = std::clamp(static_cast<int>(std::floor(place.y / cell_mm_)), 0, rows_ - 1);
  worth_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
         static_cast<std::size_t>(column)] += worth;
}

std::vector<Proposal> scanSites(const FillerMaker& maker, const Sites& sites, const WantedMap& wanted,
                                const ScanOptions& options) {
  const std::vector<Pose> poses = posesOf(maker, options, wanted.cell_mm());
  const double height = sites.grid().y.at(sites.grid().y.count() - 1);
  const auto steps = static_cast<std::size_t>(height / options.pitch_mm) + 1;
  std::vector<std::vector<Scored>> rows(steps);
  forEach(steps, [&](std::size_t y) {
    rows[y] = scoreRow(poses, maker, sites, wanted, options, static_cast<int>(y));
  });
  std::vector<Scored> scored;
  for (const auto& row : rows) scored.insert(scored.end(), row.begin(), row.end());
  std::sort(scored.begin(), scored.end(), [](const Scored& a, const Scored& b) {
    return std::tuple(-a.worth, a.y, a.x, a.pose) < std::tuple(-b.worth, b.y, b.x, b.pose);
  });
  CellShares shares(wanted, options.each_cell);
  std::vector<Proposal> taken;
  for (const Scored& one : scored) {
    const Pose& pose = poses[one.pose];
    const glm::dvec2 at{one.x * options.pitch_mm, one.y * options.pitch_mm};
    if (!shares.take(pose, static_cast<int>(std::round(at.x / wanted.cell_mm() - 0.5)),
                     static_cast<int>(std::round(at.y / wanted.cell_mm() - 0.5))))
      continue;
    taken.push_back({pose.kind, at, pose.any_turn ? anyTurn(options.seed, one) : pose.turn_deg, one.worth});
  }
  return taken;
}

}  // namespace petalproof
