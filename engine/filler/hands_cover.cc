#include "engine/filler/internal/hands_cover.h"

#include "engine/base/threads.h"
#include "engine/filler/internal/best_first.h"
#include "engine/filler/internal/cover_task.h"
#include "engine/filler/internal/fitting.h"
#include "engine/filler/internal/scan.h"

#include <algorithm>
#include <limits>
#include <numeric>
#include <set>
#include <utility>

namespace petalproof {
namespace {

constexpr double cell_mm = 10;
constexpr float planned_weight = 8;  // against 1 of a gap of a build
constexpr int planned_apart = 4;     // places of the grid each way

ScanOptions scanOf(const SearchTask& task, Look look) {
  const bool close = look == Look::close;
  ScanOptions options;
  options.seed = task.seed;
  options.pitch_mm = close ? 4 : 8;
  options.turns = close ? 16 : 8;
  options.each_cell = close ? 6 : 4;
  return options;
}

std::uint64_t movesFor(std::size_t fillers) { return 2'000 + 40 * fillers; }

}  // namespace

HandsCover::HandsCover(const SearchTask& task)
    : task_(task),
      pool_(task),
      demands_(task.maker, {task.scene.panels.width_mm(), task.scene.panels.height_mm()}) {}

void HandsCover::addPlanned(const MustHide& shown) {
  const PlaceGrid& grid = task_.sites.grid();
  for (const Eye& eye : shown.eyes) {
    std::vector<glm::dvec2> places = eye.others;
    std::set<std::pair<int, int>> blocks;
    eye.places.forEach([&](int column, int row) {
      if (blocks.emplace(column / planned_apart, row / planned_apart).second)
        places.push_back({grid.x.at(column), grid.y.at(row)});
    });
    if (!places.empty()) demands_.add(demands_.addView(eye.at, nullptr, 0), places, planned_weight);
  }
}

void HandsCover::addGaps(const glm::dvec3& eye, std::uint32_t build, std::span<const HandBuild* const> hung,
                         std::span<const std::vector<glm::dvec2>> gaps_mm) {
  for (const HandBuild* one : hung) {
    const std::uint32_t view = demands_.addView(eye, one, build);
    for (const std::vector<glm::dvec2>& places : gaps_mm)
      demands_.add(view, places, 1.0F / static_cast<float>(places.size() * hung.size()));
  }
}

void HandsCover::give(const std::vector<Candidate>& fillers) {
  std::vector<Proposal> proposals;
  for (const Candidate& one : fillers) proposals.push_back({one.kind, one.site.board_mm, one.turn_deg, 0});
  pool_.add(proposals);
  given_ = pool_.numbersOf(proposals);
  chosen_ = given_;
}

std::vector<Candidate> HandsCover::chosenFillers() const {
  std::vector<Candidate> all;
  for (const std::uint32_t k : chosen_) all.push_back(pool_[k]);
  return all;
}

void HandsCover::proposeFrom(std::uint32_t demand, Look look) {
  Numbers some(demands_.size() - demand);
  std::iota(some.begin(), some.end(), demand);
  propose(some, look);
}

void HandsCover::propose(const Numbers& demands, Look look) {
  if (!demands.empty()) {
    WantedMap wanted(task_.sites.grid(), look == Look::close ? cell_mm / 2 : cell_mm);
    for (const std::uint32_t k : demands) wanted.add(demands_[k].at_mm, demands_[k].weight);
    pool_.add(scanSites(task_.maker, task_.sites, std::move(wanted), scanOf(task_, look)));
  }
  covers_.resize(pool_.size());
  covers_known_.resize(pool_.size(), 0);
  forEach(pool_.size(), [&](std::size_t k) {
    if (covers_known_[k] == demands_.size()) return;
    const Numbers more = demands_.hiddenBy(pool_[k], covers_known_[k]);
    covers_[k].insert(covers_[k].end(), more.begin(), more.end());
    covers_known_[k] = demands_.size();
  });
}

void HandsCover::proposeCentred() {
  const std::vector<std::uint32_t> times = timesHidden();
  std::vector<std::vector<Proposal>> found(chosen_.size());
  forEach(chosen_.size(), [&](std::size_t n) {
    std::vector<glm::dvec2> places;
    for (const std::uint32_t demand : covers_[chosen_[n]])
      if (times[demand] == 1) places.push_back(demands_[demand].at_mm);
    if (!places.empty()) found[n] = fittings(task_.maker, places);
  });
  for (const std::vector<Proposal>& some : found) pool_.add(some);
  propose({}, Look::wide);
}

void HandsCover::cover(double least) {
  std::vector<double> values;
  for (std::uint32_t k = 0; k < demands_.size(); ++k) values.push_back(demands_[k].weight);
  CoverOptions options;
  options.seed = task_.seed;
  options.moves = movesFor(chosen_.size());
  options.changes = options.moves * changes_each_move;
  options.start = chosen_;
  options.cancelled = task_.cancelled;
  chosen_ = coverSets(coverProblem(task_, pool_, std::move(values), covers_), options).chosen;
  if (least > 0) dropRarelyUsed(least);
}

// Those that nothing known needs stay: they may be good for what other builds show.
void HandsCover::exchangeForBare() {
  const std::vector<std::uint32_t> before = chosen_;
  cover(0);
  Leeway leeway(task_, pool_, chosen_, StockRule::kept);
  for (const std::uint32_t k : before) {
    if (!leeway.has(k)) continue;
    leeway.take(k);
    chosen_.push_back(k);
  }
}

// In gaps, no more than one of each build: one place that shows is as bad as several.
template <class Counts>
double HandsCover::sumOverBuilds(std::uint32_t k, const Counts& counts) const {
  double sum = 0;
  double of_build = 0;
  std::uint32_t build = ~std::uint32_t{0};
  for (const std::uint32_t demand : covers_[k]) {
    if (!counts(demand)) continue;
    if (demands_.buildOf(demand) != build) sum += std::exchange(of_build, 0);
    build = demands_.buildOf(demand);
    of_build = std::min(1.0, of_build + static_cast<double>(demands_[demand].weight));
  }
  return sum + of_build;
}

void HandsCover::swapForBare() {
  constexpr std::size_t most_tried = 400;
  std::vector<char> hidden = hiddenByChosen();
  std::vector<std::pair<double, std::uint32_t>> by_gain;
  for (std::uint32_t k = 0; k < pool_.size(); ++k)
    if (const double more = gain(k, hidden); more > 0) by_gain.emplace_back(-more, k);
  std::sort(by_gain.begin(), by_gain.end());
  by_gain.resize(std::min(by_gain.size(), most_tried));
  for (const auto& [known, k] : by_gain)
    if (!(task_.cancelled && task_.cancelled()) && swapIn(k, gain(k, hidden))) hidden = hiddenByChosen();
}

// True if it is in.
bool HandsCover::swapIn(std::uint32_t k, double more) {
  constexpr std::size_t most_out = 3;
  const std::vector<std::uint32_t>& in_conflict = pool_.conflicts()[k];
  std::vector<std::uint32_t> out;
  std::vector<std::uint32_t> rest;
  for (const std::uint32_t one : chosen_)
    (std::binary_search(in_conflict.begin(), in_conflict.end(), one) ? out : rest).push_back(one);
  if (more <= 0 || out.size() > most_out || !Leeway(task_, pool_, rest, StockRule::kept).has(k)) return false;
  rest.push_back(k);
  std::vector<char> hidden = coveredBy(rest, covers_, demands_.size());
  double less = 0;
  for (const std::uint32_t one : out) {
    less += gain(one, hidden);
    const bool planned = std::any_of(covers_[one].begin(), covers_[one].end(), [&](std::uint32_t demand) {
      return demands_.buildOf(demand) == 0 && hidden[demand] == 0;
    });
    if (planned || less >= more) return false;
    for (const std::uint32_t demand : covers_[one]) hidden[demand] = 1;
  }
  chosen_ = std::move(rest);
  return true;
}

// What few builds only are better for may be otherwise in others: more of them will tell.
void HandsCover::dropRarelyUsed(double least) {
  std::vector<std::uint32_t> times = timesHidden();
  for (std::size_t n = chosen_.size(); n-- > 0;)
    if (neededAlone(chosen_[n], times) < least) drop(n, times);
}

void HandsCover::dropForFewWalls(double most) {
  std::vector<std::uint32_t> times = timesHidden();
  while (!chosen_.empty()) {
    std::vector<double> needed(chosen_.size());
    forEach(chosen_.size(), [&](std::size_t n) { needed[n] = neededAlone(chosen_[n], times); });
    const auto least = std::min_element(needed.begin(), needed.end());
    most -= *least;
    if (most < 0) return;
    drop(static_cast<std::size_t>(least - needed.begin()), times);
  }
}

std::vector<std::uint32_t> HandsCover::timesHidden() const {
  std::vector<std::uint32_t> times(demands_.size(), 0);
  for (const std::uint32_t k : chosen_)
    for (const std::uint32_t demand : covers_[k]) ++times[demand];
  return times;
}

void HandsCover::drop(std::size_t n, std::vector<std::uint32_t>& times) {
  for (const std::uint32_t demand : covers_[chosen_[n]]) --times[demand];
  chosen_.erase(chosen_.begin() + static_cast<std::ptrdiff_t>(n));
}

// Gaps that only this filler hides, no more than one of each build; without end where one is the plan's own.
double HandsCover::neededAlone(std::uint32_t k, const std::vector<std::uint32_t>& times) const {
  const auto isAlone = [&](std::uint32_t demand) { return times[demand] == 1; };
  const bool planned = std::any_of(covers_[k].begin(), covers_[k].end(), [&](std::uint32_t demand) {
    return demands_.buildOf(demand) == 0 && isAlone(demand);
  });
  return planned ? std::numeric_limits<double>::infinity() : sumOverBuilds(k, isAlone);
}

double HandsCover::gain(std::uint32_t k, const std::vector<char>& hidden) const {
  return sumOverBuilds(k, [&](std::uint32_t demand) { return hidden[demand] == 0; });
}

std::vector<char> HandsCover::hiddenByChosen() const { return coveredBy(chosen_, covers_, demands_.size()); }

HandsCover::Numbers HandsCover::bare() const {
  const std::vector<char> hidden = hiddenByChosen();
  std::vector<std::uint32_t> left;
  for (std::uint32_t k = 0; k < demands_.size(); ++k)
    if (hidden[k] == 0) left.push_back(k);
  return left;
}

HandsCover::Numbers HandsCover::missing(StockRule stock, double least, std::uint32_t from) const {
  std::vector<char> hidden = hiddenByChosen();
  std::fill(hidden.begin(), hidden.begin() + from, 1);
  return bestFirst(Leeway(task_, pool_, chosen_, stock), covers_, std::move(hidden), least,
                   [&](std::uint32_t k, const std::vector<char>& known) { return gain(k, known); });
}

void HandsCover::addBest(double least, std::uint32_t from) {
  const Numbers more = missing(StockRule::kept, least, from);
  chosen_.insert(chosen_.end(), more.begin(), more.end());
}

std::vector<int> HandsCover::wantedBeyondStock() const {
  std::vector<int> wanted(task_.maker.kinds().size(), 0);
  for (const std::uint32_t k : missing(StockRule::ignored, 0, 0)) ++wanted[pool_[k].kind];
  return wanted;
}

}  // namespace petalproof
