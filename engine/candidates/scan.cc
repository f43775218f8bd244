#include "engine/candidates/scan.h"

#include "engine/base/hash.h"
#include "engine/candidates/silhouette.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <tuple>

namespace petalproof::candidates {
namespace {

struct CellOffset {
  int column = 0;
  int row = 0;
  double height_mm = 0;  // of the bloom there, roughly
};

// The height of a dome: full in the middle, a third at the rim.
double domeHeight(const scene::FillerKind& kind, double from_axis) {
  const double share = std::min(1.0, 2 * from_axis / kind.diameter_mm);
  constexpr double fall = 0.66;
  return kind.depth_mm * (1 - fall * share * share);
}

// The cells that a kind covers seen head-on, as offsets from the cell of its axis.
std::vector<CellOffset> stampOf(const scene::FillerKind& kind, double turn_deg, double cell) {
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
  bool any_turn = false;  // the turn makes no difference
  std::vector<CellOffset> stamp;
  CellOffset low;  // the stamp's bounds
  CellOffset high;
};

// Grows the bounds of a pose.
void include(Pose& bounds, const CellOffset& low, const CellOffset& high) {
  bounds.low = {std::min(bounds.low.column, low.column), std::min(bounds.low.row, low.row), 0};
  bounds.high = {std::max(bounds.high.column, high.column), std::max(bounds.high.row, high.row), 0};
}

Pose poseOf(std::size_t kind, int turn_deg, bool any_turn, std::vector<CellOffset> stamp) {
  Pose pose{kind, turn_deg, any_turn, std::move(stamp), {}, {}};
  for (const CellOffset& offset : pose.stamp) include(pose, offset, offset);
  return pose;
}

// Whether a kind's turn makes a difference: it fills only a part of the disc that it turns in.
bool turnMatters(const scene::FillerKind& kind, double cell) {
  constexpr double full = 0.6;  // more than a leaf fills, less than a round bloom
  const double cells = pi * kind.diameter_mm * kind.diameter_mm / 4 / (cell * cell);
  return static_cast<double>(stampOf(kind, 0, cell).size()) < full * cells;
}

std::vector<Pose> posesOf(const scene::FillerMaker& maker, const ScanOptions& options, double cell) {
  std::vector<Pose> poses;
  for (std::size_t kind = 0; kind < maker.kinds().size(); ++kind) {
    const scene::FillerKind& filler = maker.kinds()[kind];
    const int turns = turnMatters(filler, cell) ? options.turns : 1;
    for (int turn = 0; turn < turns; ++turn)
      poses.push_back(
          poseOf(kind, 360 * turn / turns, turns == 1, stampOf(filler, 360.0 * turn / turns, cell)));
  }
  return poses;
}

double mostWorthOf(const Pose& pose, const WantedMap& wanted, int column, int row) {
  return wanted.sumOver(column + pose.low.column, row + pose.low.row, column + pose.high.column,
                        row + pose.high.row);
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

int cellOf(double mm, const WantedMap& wanted) {
  return static_cast<int>(std::round(mm / wanted.cell_mm() - 0.5));
}

struct Scored {
  float worth = 0;
  std::uint32_t pose = 0;
  std::int32_t x = 0;  // steps
  std::int32_t y = 0;
};

// For each kind how many steps of the scan to go at a time: large kinds are scanned more coarsely.
std::vector<int> stepsOf(const scene::FillerMaker& maker, const ScanOptions& options) {
  constexpr double steps_each_width = 24;
  std::vector<int> every;
  for (const scene::FillerKind& kind : maker.kinds())
    every.push_back(std::max(1, static_cast<int>(kind.width_mm / steps_each_width / options.pitch_mm)));
  return every;
}

// Scores all sites of a row of the scan.
class RowScorer {
 public:
  RowScorer(const std::vector<Pose>& poses, const scene::FillerMaker& maker, const Sites& sites,
            const WantedMap& wanted, const ScanOptions& options)
      : poses_(poses),
        maker_(maker),
        sites_(sites),
        wanted_(wanted),
        options_(options),
        every_(stepsOf(maker, options)),
        any_turn_(maker.kinds().size()),
        width_mm_(sites.grid().x.at(sites.grid().x.count() - 1)) {
    for (const Pose& pose : poses) include(any_turn_[pose.kind], pose.low, pose.high);
  }

  std::vector<Scored> score(int y) const {
    std::vector<Scored> row;
    std::vector<Fit> fits(maker_.kinds().size());
    for (int x = 0; x * options_.pitch_mm <= width_mm_; ++x) {
      for (std::size_t kind = 0; kind < fits.size(); ++kind) fits[kind] = firstLook(kind, x, y);
      for (std::uint32_t pose = 0; pose < poses_.size(); ++pose)
        scorePose(pose, x, y, fits[poses_[pose].kind], row);
    }
    return row;
  }

 private:
  enum class Fit { unknown, yes, no };

  // A quick test that rules most sites out: they have nothing wanted near.
  Fit firstLook(std::size_t kind, int x, int y) const {
    if (x % every_[kind] != 0 || y % every_[kind] != 0) return Fit::no;
    const double most = mostWorthOf(any_turn_[kind], wanted_, cellOf(x * options_.pitch_mm, wanted_),
                                    cellOf(y * options_.pitch_mm, wanted_));
    return most <= least() ? Fit::no : Fit::unknown;
  }
  void scorePose(std::uint32_t number, int x, int y, Fit& fit, std::vector<Scored>& row) const {
    if (fit == Fit::no) return;
    const Pose& pose = poses_[number];
    const glm::dvec2 at{x * options_.pitch_mm, y * options_.pitch_mm};
    const int column = cellOf(at.x, wanted_);
    const int cell_row = cellOf(at.y, wanted_);
    if (mostWorthOf(pose, wanted_, column, cell_row) <= least()) return;
    if (fit == Fit::unknown)
      fit = sites_.barsPlate(maker_.kinds()[pose.kind], at).by == Bar::none ? Fit::yes : Fit::no;
    if (fit == Fit::no) return;
    const float worth = worthOf(pose, wanted_, column, cell_row);
    if (worth > options_.least_worth) row.push_back({worth, number, x, y});
  }
  double least() const {
    constexpr double rounding = 1e-6;  // of differences of large sums
    return options_.least_worth + rounding;
  }

  const std::vector<Pose>& poses_;
  const scene::FillerMaker& maker_;
  const Sites& sites_;
  const WantedMap& wanted_;
  const ScanOptions& options_;
  std::vector<int> every_;
  std::vector<Pose> any_turn_;  // by kind: the bounds of all its poses
  double width_mm_;
};

// A turn for a round bloom that looks chosen by hand.
int randomTurn(std::uint64_t seed, const Scored& site) {
  return static_cast<int>(
      hashOf({seed, site.pose, static_cast<std::uint64_t>(site.x), static_cast<std::uint64_t>(site.y)}) %
      360);
}

// Counts how many proposals of each kind cover (serve) each wanted cell, and tells whether another is worth
// taking.
class CellShares {
 public:
  CellShares(const WantedMap& wanted, int each, std::size_t kinds)
      : columns_(wanted.columns()), rows_(wanted.rows()), enough_(static_cast<std::uint8_t>(each + 1)) {
    std::vector<std::uint8_t> served(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
    for (int row = 0; row < rows_; ++row)
      for (int column = 0; column < columns_; ++column)
        served[cellAt(column, row)] = wanted.at(column, row) > 0 ? 1 : unwanted;
    served_.assign(kinds, served);
  }
  bool wouldServe(const Pose& pose, int column, int row) const {
    const std::vector<std::uint8_t>& served = served_[pose.kind];
    int cells = 0;
    int wanting = 0;
    bool hardly_served = false;
    forEachCell(pose, column, row, [&](std::size_t cell) {
      cells += served[cell] != unwanted ? 1 : 0;
      wanting += served[cell] != unwanted && served[cell] < enough_ ? 1 : 0;
      hardly_served = hardly_served || (served[cell] != unwanted && served[cell] < few);
    });
    constexpr int least_wanting = 6;  // 1 in so many of its cells must still need proposals
    return wanting > 0 && (hardly_served || wanting * least_wanting >= cells);
  }
  void take(const Pose& pose, int column, int row) {
    std::vector<std::uint8_t>& served = served_[pose.kind];
    forEachCell(pose, column, row, [&](std::size_t cell) {
      if (served[cell] != unwanted && served[cell] < most) ++served[cell];
    });
  }

 private:
  std::size_t cellAt(int column, int row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
           static_cast<std::size_t>(column);
  }
  template <class Visit>
  void forEachCell(const Pose& pose, int column, int row, const Visit& visit) const {
    for (const CellOffset& offset : pose.stamp) {
      const int c = column + offset.column;
      const int r = row + offset.row;
      if (c >= 0 && r >= 0 && c < columns_ && r < rows_) visit(cellAt(c, r));
    }
  }
  // A wanted cell's count is 1 more than how often it was served.
  static constexpr std::uint8_t unwanted = 0;
  static constexpr std::uint8_t few = 4;
  static constexpr std::uint8_t most = 255;
  int columns_;
  int rows_;
  std::uint8_t enough_;
  std::vector<std::vector<std::uint8_t>> served_;  // by kind
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

void WantedMap::summed() {
  const auto across = static_cast<std::size_t>(columns_) + 1;
  sums_.assign(across * (static_cast<std::size_t>(rows_) + 1), 0);
  for (int row = 0; row < rows_; ++row) {
    double so_far = 0;
    for (int column = 0; column < columns_; ++column) {
      so_far += static_cast<double>(at(column, row));
      const std::size_t below = static_cast<std::size_t>(row) * across + static_cast<std::size_t>(column) + 1;
      sums_[below + across] = sums_[below] + so_far;
    }
  }
}

double WantedMap::sumOver(int from_column, int from_row, int to_column, int to_row) const {
  const auto sum = [&](int column, int row) {
    return sums_[static_cast<std::size_t>(std::clamp(row, 0, rows_)) *
                     (static_cast<std::size_t>(columns_) + 1) +
                 static_cast<std::size_t>(std::clamp(column, 0, columns_))];
  };
  return sum(to_column + 1, to_row + 1) - sum(from_column, to_row + 1) - sum(to_column + 1, from_row) +
         sum(from_column, from_row);
}

namespace {

// All sites that are worth enough, best first. Rows are scored side by side.
std::vector<Scored> scoredSites(const std::vector<Pose>& poses, const SearchTask& task,
                                const WantedMap& wanted, const ScanOptions& options) {
  const GridLines& upwards = task.sites.grid().y;
  const double height = upwards.at(upwards.count() - 1);
  const auto steps = static_cast<std::size_t>(height / options.pitch_mm) + 1;
  std::vector<std::vector<Scored>> rows(steps);
  const RowScorer scorer(poses, task.maker, task.sites, wanted, options);
  const auto better = [](const Scored& a, const Scored& b) {
    return std::tuple(-a.worth, a.y, a.x, a.pose) < std::tuple(-b.worth, b.y, b.x, b.pose);
  };
  task.workers.forEach(steps, [&](std::size_t y) {
    throwIfStopAsked(task.stop);
    rows[y] = scorer.score(static_cast<int>(y));
  });
  // Each half of the wall is sorted on its own.
  std::vector<Scored> halves[2];
  task.workers.forEach(2, [&](std::size_t half) {
    for (std::size_t y = half * steps / 2; y < (half + 1) * steps / 2; ++y)
      halves[half].insert(halves[half].end(), rows[y].begin(), rows[y].end());
    std::sort(halves[half].begin(), halves[half].end(), better);
  });
  std::vector<Scored> scored(halves[0].size() + halves[1].size());
  std::merge(halves[0].begin(), halves[0].end(), halves[1].begin(), halves[1].end(), scored.begin(), better);
  return scored;
}

// Takes sites in order, each if it still serves cells and isn't barred. Testing for bars takes longest, so a
// stretch of sites is tested side by side: all that would serve if no site of the stretch were taken.
class ProposalTaker {
 public:
  ProposalTaker(const std::vector<Pose>& poses, const SearchTask& task, const WantedMap& wanted,
                const ScanOptions& options)
      : poses_(poses),
        task_(task),
        wanted_(wanted),
        options_(options),
        shares_(wanted, options.each_cell, task.maker.kinds().size()) {}

  void take(std::span<const Scored> stretch) {
    std::vector<char> would(stretch.size(), 0);
    task_.workers.forEach(stretch.size(), [&](std::size_t k) { would[k] = serves(stretch[k]) ? 1 : 0; });
    std::vector<const Scored*> sites;
    for (std::size_t k = 0; k < stretch.size(); ++k)
      if (would[k] != 0) sites.push_back(&stretch[k]);
    std::vector<char> barred(sites.size(), 0);
    task_.workers.forEach(sites.size(), [&](std::size_t k) {
      throwIfStopAsked(task_.stop);
      barred[k] = isBarred(*sites[k]) ? 1 : 0;
    });
    for (std::size_t k = 0; k < sites.size(); ++k)
      if (barred[k] == 0 && serves(*sites[k])) take(*sites[k]);
  }
  const std::vector<Proposal>& taken() const { return taken_; }

 private:
  glm::dvec2 at(const Scored& site) const { return glm::dvec2(site.x, site.y) * options_.pitch_mm; }
  bool serves(const Scored& site) const {
    return shares_.wouldServe(poses_[site.pose], cellOf(at(site).x, wanted_), cellOf(at(site).y, wanted_));
  }
  bool isBarred(const Scored& site) const {
    const Pose& pose = poses_[site.pose];
    return likelyBarred(pose, task_.sites, task_.maker.kinds()[pose.kind].diameter_mm, at(site),
                        wanted_.cell_mm());
  }
  void take(const Scored& site) {
    const Pose& pose = poses_[site.pose];
    shares_.take(pose, cellOf(at(site).x, wanted_), cellOf(at(site).y, wanted_));
    taken_.push_back(
        {pose.kind, at(site), pose.any_turn ? randomTurn(options_.seed, site) : pose.turn_deg, site.worth});
  }

  const std::vector<Pose>& poses_;
  const SearchTask& task_;
  const WantedMap& wanted_;
  const ScanOptions& options_;
  CellShares shares_;
  std::vector<Proposal> taken_;
};

}  // namespace

std::vector<Proposal> scanSites(const SearchTask& task, WantedMap wanted, const ScanOptions& options) {
  constexpr std::size_t stretch = 8192;  // enough to keep all threads busy
  wanted.summed();
  const std::vector<Pose> poses = posesOf(task.maker, options, wanted.cell_mm());
  const std::vector<Scored> scored = scoredSites(poses, task, wanted, options);
  ProposalTaker taker(poses, task, wanted, options);
  const std::span<const Scored> all(scored);
  for (std::size_t from = 0; from < all.size(); from += stretch)
    taker.take(all.subspan(from, std::min(stretch, all.size() - from)));
  return taker.taken();
}

}  // namespace petalproof::candidates
