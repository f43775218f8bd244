#include "engine/hands/internal/hands_cover.h"

#include "engine/candidates/best_first.h"
#include "engine/candidates/fitting.h"
#include "engine/candidates/scan.h"
#include "engine/fill/cover_task.h"

#include <algorithm>
#include <limits>
#include <numeric>
#include <set>
#include <utility>

namespace petalproof::hands {
namespace {

constexpr double cell_mm = 10;       // of maps of wanted places
constexpr float planned_weight = 8;  // of a place of the plan itself, against 1 of a gap of a build
constexpr int planned_apart = 4;     // a place for so many of the grid each way

candidates::ScanOptions scanOf(const candidates::SearchTask& task, Look look) {
  const bool close = look == Look::close;
  candidates::ScanOptions options;
  options.seed = task.seed;
  options.pitch_mm = (close ? 4 : 8) * candidates::coarsenessOf(task.sites.grid());
  options.turns = close ? 16 : 8;
  options.each_cell = close ? 6 : 4;
  return options;
}

std::vector<candidates::Proposal> proposalsOf(const std::vector<candidates::Candidate>& fillers) {
  std::vector<candidates::Proposal> proposals;
  for (const candidates::Candidate& filler : fillers) proposals.push_back(candidates::proposalOf(filler));
  return proposals;
}

// Moves of the cover's local search: few, as it starts from a good choice.
std::uint64_t movesFor(std::size_t fillers) {
  constexpr std::uint64_t fewest = 2'000;
  constexpr std::uint64_t moves_each = 40;
  return fewest + moves_each * fillers;
}

}  // namespace

HandsCover::HandsCover(const candidates::SearchTask& task)
    : task_(task),
      pool_(task),
      demands_(task.maker, {task.scene.panels.width_mm(), task.scene.panels.height_mm()}) {}

void HandsCover::addPlanned(const candidates::MustHide& shown) {
  const candidates::PlaceGrid& grid = task_.sites.grid();
  for (const candidates::Eye& eye : shown.eyes) {
    std::vector<glm::dvec2> places = eye.others;
    std::set<std::pair<int, int>> blocks;
    eye.places.forEach([&](int column, int row) {
      if (blocks.emplace(column / planned_apart, row / planned_apart).second)
        places.push_back({grid.x.at(column), grid.y.at(row)});
    });
    if (!places.empty()) demands_.add(demands_.addView(eye.at, nullptr, 0), places, planned_weight);
  }
}

void HandsCover::lookedAt(int builds, const std::vector<candidates::Candidate>& hung) {
  looks_.push_back({builds, demands_.size(), pool_.numbersOf(proposalsOf(hung))});
}

void HandsCover::addGaps(const glm::dvec3& eye, std::uint32_t build,
                         std::span<const scene::HandBuild* const> hung,
                         std::span<const std::vector<glm::dvec2>> gaps_mm) {
  for (const scene::HandBuild* hanging : hung) {
    const std::uint32_t view = demands_.addView(eye, hanging, build);
    for (const std::vector<glm::dvec2>& places : gaps_mm)
      demands_.add(view, places, 1.0F / static_cast<float>(places.size() * hung.size()));
  }
}

void HandsCover::give(const std::vector<candidates::Candidate>& fillers) {
  const std::vector<candidates::Proposal> proposals = proposalsOf(fillers);
  pool_.add(proposals);
  given_ = pool_.numbersOf(proposals);
  chosen_ = given_;
}

std::vector<candidates::Candidate> HandsCover::chosenFillers() const {
  std::vector<candidates::Candidate> fillers;
  for (const std::uint32_t k : chosen_) fillers.push_back(pool_[k]);
  return fillers;
}

void HandsCover::proposeFrom(std::uint32_t demand, Look look) {
  Numbers demands(demands_.size() - demand);
  std::iota(demands.begin(), demands.end(), demand);
  propose(demands, look);
}

void HandsCover::propose(const Numbers& demands, Look look) {
  if (!demands.empty()) {
    candidates::WantedMap wanted(task_.sites.grid(), look == Look::close ? cell_mm / 2 : cell_mm);
    for (const std::uint32_t k : demands) wanted.add(demands_[k].at_mm, demands_[k].weight);
    pool_.add(candidates::scanSites(task_, std::move(wanted), scanOf(task_, look)));
  }
  covers_.resize(pool_.size());
  covers_known_.resize(pool_.size(), 0);
  task_.workers.forEach(pool_.size(), [&](std::size_t k) {
    throwIfStopAsked(task_.stop);
    if (covers_known_[k] == demands_.size()) return;
    const Numbers hidden = demands_.hiddenBy(pool_[k], covers_known_[k]);
    covers_[k].insert(covers_[k].end(), hidden.begin(), hidden.end());
    covers_known_[k] = demands_.size();
  });
}

void HandsCover::proposeCentred() {
  const std::vector<std::uint32_t> times = timesHiddenBy(chosen_);
  std::vector<std::vector<candidates::Proposal>> found(chosen_.size());
  task_.workers.forEach(chosen_.size(), [&](std::size_t n) {
    std::vector<glm::dvec2> places;
    for (const std::uint32_t demand : covers_[chosen_[n]])
      if (times[demand] == 1) places.push_back(demands_[demand].at_mm);
    if (!places.empty()) found[n] = candidates::fittings(task_.maker, places);
  });
  for (const std::vector<candidates::Proposal>& proposals : found) pool_.add(proposals);
  propose({}, Look::wide);
}

void HandsCover::lookCloselyAt(const Numbers& demands) {
  pool_.add(close_looks_.around(task_, demands_, demands));
  propose({}, Look::wide);
}

void HandsCover::cover(double least) {
  std::vector<double> values;
  for (std::uint32_t k = 0; k < demands_.size(); ++k) values.push_back(demands_[k].weight);
  cover::CoverOptions options;
  options.seed = task_.seed;
  options.moves = movesFor(chosen_.size());
  options.changes = options.moves * fill::changes_each_move;
  options.start = chosen_;
  options.stop = task_.stop;
  chosen_ = cover::coverSets(fill::coverProblem(task_, pool_, std::move(values), covers_), options).chosen;
  if (least > 0) dropRarelyUsed(least);
}

// Fillers that no known demand needs stay where they can: they may hide what other builds show.
void HandsCover::exchangeForBare() {
  const std::vector<std::uint32_t> before = chosen_;
  cover(0);
  candidates::Leeway leeway(task_, pool_, chosen_, candidates::StockRule::kept);
  for (const std::uint32_t k : before) {
    if (!leeway.has(k)) continue;
    leeway.take(k);
    chosen_.push_back(k);
  }
}

// The worth of the demands that a candidate hides, summed over the builds. Each build counts as a gap at
// most: a place that shows is as bad as several. worth(demand) is 0 for demands that don't count.
template <class Worth>
double HandsCover::sumOverBuilds(std::uint32_t k, const Worth& worth) const {
  double sum = 0;
  double weight = 0;
  double most = 0;
  std::uint32_t build = ~std::uint32_t{0};
  const auto finish = [&] { sum += std::min(1.0, std::exchange(weight, 0)) * std::exchange(most, 0); };
  for (const std::uint32_t demand : covers_[k]) {
    const double of_demand = worth(demand);
    if (of_demand == 0) continue;
    if (demands_.buildOf(demand) != build) finish();
    build = demands_.buildOf(demand);
    weight += static_cast<double>(demands_[demand].weight);
    most = std::max(most, of_demand);
  }
  finish();
  return sum;
}

// A demand shows in 1 of the builds that were looked at while no hung filler hid it. (Where the first few
// builds show a place and fillers hide it ever since, later looks don't tell how often it shows.)
HandsCover::Shares HandsCover::sharesOfWalls() const {
  std::vector<int> bare(demands_.size(), 0);
  for (std::size_t look = 0; look < looks_.size(); ++look) {
    std::vector<char> seen(demands_.size(), 1);
    for (const std::uint32_t k : looks_[look].hung)
      for (const std::uint32_t demand : covers_[k]) seen[demand] = 0;
    const std::uint32_t to = look + 1 < looks_.size() ? looks_[look + 1].from : demands_.size();
    std::fill(seen.begin() + looks_[look].from, seen.begin() + to, 1);
    for (std::size_t demand = 0; demand < seen.size(); ++demand)
      bare[demand] += seen[demand] * looks_[look].builds;
  }
  Shares shares;
  for (const int builds : bare) shares.push_back(1.0 / std::max(1, builds));
  return shares;
}

void HandsCover::swapForBare() {
  constexpr std::size_t most_tried = 400;
  const Shares shares = sharesOfWalls();
  std::vector<char> hidden = hiddenByChosen();
  const auto gainNow = [&](std::uint32_t k) {
    return sumOverBuilds(k, [&](std::uint32_t demand) { return hidden[demand] == 0 ? shares[demand] : 0; });
  };
  std::vector<double> gains(pool_.size());
  task_.workers.forEach(gains.size(),
                        [&](std::size_t k) { gains[k] = gainNow(static_cast<std::uint32_t>(k)); });
  std::vector<std::pair<double, std::uint32_t>> by_gain;
  for (std::uint32_t k = 0; k < pool_.size(); ++k)
    if (gains[k] > 0) by_gain.emplace_back(-gains[k], k);
  std::sort(by_gain.begin(), by_gain.end());
  by_gain.resize(std::min(by_gain.size(), most_tried));
  for (const auto& [known, k] : by_gain)
    if (swapIn(k, gainNow(k), shares)) hidden = hiddenByChosen();
}

// Swaps the candidate in, if it gains more than the fillers lose that it takes the place of. True if it did.
bool HandsCover::swapIn(std::uint32_t k, double gain, const Shares& shares) {
  constexpr std::size_t most_out = 3;
  const std::vector<std::uint32_t>& in_conflict = pool_.conflicts()[k];
  Numbers out;
  Numbers kept;
  for (const std::uint32_t filler : chosen_)
    (std::binary_search(in_conflict.begin(), in_conflict.end(), filler) ? out : kept).push_back(filler);
  if (gain <= 0 || out.size() > most_out ||
      !candidates::Leeway(task_, pool_, kept, candidates::StockRule::kept).has(k))
    return false;
  kept.push_back(k);
  std::vector<std::uint32_t> times = timesHiddenBy(kept);
  double loss = 0;
  for (const std::uint32_t filler : out) {
    for (const std::uint32_t demand : covers_[filler]) ++times[demand];
    loss += neededAlone(filler, times, [&](std::uint32_t demand) { return shares[demand]; });
    if (loss >= gain) return false;
  }
  chosen_ = std::move(kept);
  return true;
}

// Fillers that only a few builds need may be of no use in others: later looks will tell.
void HandsCover::dropRarelyUsed(double least) {
  std::vector<std::uint32_t> times = timesHiddenBy(chosen_);
  for (std::size_t n = chosen_.size(); n-- > 0;)
    if (neededAlone(chosen_[n], times, [](std::uint32_t) { return 1.0; }) < least) drop(n, times);
}

void HandsCover::dropForFewWalls(double most_share) {
  const Shares shares = sharesOfWalls();
  std::vector<std::uint32_t> times = timesHiddenBy(chosen_);
  while (!chosen_.empty()) {
    std::vector<double> needed(chosen_.size());
    throwIfStopAsked(task_.stop);
    task_.workers.forEach(chosen_.size(), [&](std::size_t n) {
      needed[n] = neededAlone(chosen_[n], times, [&](std::uint32_t demand) { return shares[demand]; });
    });
    const auto least = std::min_element(needed.begin(), needed.end());
    most_share -= *least;
    if (most_share < 0) return;
    drop(static_cast<std::size_t>(least - needed.begin()), times);
  }
}

std::vector<std::uint32_t> HandsCover::timesHiddenBy(const Numbers& fillers) const {
  std::vector<std::uint32_t> times(demands_.size(), 0);
  for (const std::uint32_t k : fillers)
    for (const std::uint32_t demand : covers_[k]) ++times[demand];
  return times;
}

void HandsCover::drop(std::size_t n, std::vector<std::uint32_t>& times) {
  for (const std::uint32_t demand : covers_[chosen_[n]]) --times[demand];
  chosen_.erase(chosen_.begin() + static_cast<std::ptrdiff_t>(n));
}

// The worth of what only this filler hides; infinite if a place of the plan itself is among it.
template <class Worth>
double HandsCover::neededAlone(std::uint32_t k, const std::vector<std::uint32_t>& times,
                               const Worth& worth) const {
  const bool planned = std::any_of(covers_[k].begin(), covers_[k].end(), [&](std::uint32_t demand) {
    return demands_.buildOf(demand) == 0 && times[demand] == 1;
  });
  if (planned) return std::numeric_limits<double>::infinity();
  return sumOverBuilds(k, [&](std::uint32_t demand) { return times[demand] == 1 ? worth(demand) : 0.0; });
}

std::vector<char> HandsCover::hiddenByChosen() const {
  return candidates::coveredBy(chosen_, covers_, demands_.size());
}

HandsCover::Numbers HandsCover::bare() const {
  const std::vector<char> hidden = hiddenByChosen();
  std::vector<std::uint32_t> left;
  for (std::uint32_t k = 0; k < demands_.size(); ++k)
    if (hidden[k] == 0) left.push_back(k);
  return left;
}

HandsCover::Numbers HandsCover::hopeless() const {
  std::vector<char> hideable(demands_.size(), 0);
  for (const auto& covers : covers_)
    for (const std::uint32_t demand : covers) hideable[demand] = 1;
  Numbers left;
  for (std::uint32_t k = 0; k < demands_.size(); ++k)
    if (hideable[k] == 0) left.push_back(k);
  return left;
}

// Candidates to be added to the choice, the best first, for what it leaves bare of demands from number `from`
// on.
HandsCover::Numbers HandsCover::missing(candidates::StockRule stock, double least, std::uint32_t from) const {
  std::vector<char> hidden = hiddenByChosen();
  std::fill(hidden.begin(), hidden.begin() + from, 1);
  return candidates::bestFirst(
      task_.workers, candidates::Leeway(task_, pool_, chosen_, stock), covers_, std::move(hidden), least,
      [&](std::uint32_t k, const std::vector<char>& known) {
        return sumOverBuilds(k, [&](std::uint32_t demand) { return known[demand] == 0 ? 1.0 : 0.0; });
      });
}

void HandsCover::addBest(double least, std::uint32_t from) {
  const Numbers found = missing(candidates::StockRule::kept, least, from);
  chosen_.insert(chosen_.end(), found.begin(), found.end());
}

std::vector<int> HandsCover::wantedBeyondStock() const {
  std::vector<int> wanted(task_.maker.kinds().size(), 0);
  for (const std::uint32_t k : missing(candidates::StockRule::ignored, 0, 0)) ++wanted[pool_[k].kind];
  return wanted;
}

}  // namespace petalproof::hands
