#include "engine/filler/internal/search.h"

#include "engine/base/hash.h"
#include "engine/base/threads.h"
#include "engine/gaps/gaps.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <unordered_map>
#include <utility>

namespace petalproof {
namespace {

constexpr int rounds = 3;                  // of new candidates
constexpr std::uint64_t moves_each = 200;  // of the local search for each filler
constexpr std::uint64_t fewest_moves = 2'000;
constexpr std::uint64_t most_moves = 20'000;
constexpr int most_extensions = 8;    // of the pairs looked at, for each set of candidates
constexpr double crossing_value = 4;  // against 1, for what can't all be hidden
constexpr double most_extra_weight =
    5e-4;  // of a filler for its sheets; a thousand never outweigh one filler

// One place of each block of the grid, the one that comes first by a hash: no straight rows.
std::vector<Pair> oneInEachBlock(const PlaceBits& bits, std::uint32_t eye, const PlaceGrid& grid,
                                 int block_places) {
  struct Best {
    std::uint64_t hash = ~std::uint64_t{0};
    std::uint32_t place = 0;
  };
  std::unordered_map<std::uint64_t, Best> blocks;
  std::vector<std::uint64_t> order;
  for (int row = 0; row < bits.rows; ++row)
    for (int w = 0; w < bits.words_per_row; ++w) {
      std::uint64_t word =
          bits.bits[static_cast<std::size_t>(row) * static_cast<std::size_t>(bits.words_per_row) +
                    static_cast<std::size_t>(w)];
      for (; word != 0; word &= word - 1) {
        const int column = bits.column0 + w * 64 + __builtin_ctzll(word);
        const std::uint32_t place = grid.place(column, row + bits.row0);
        const std::uint64_t key = static_cast<std::uint64_t>((row + bits.row0) / block_places) << 32 |
                                  static_cast<std::uint64_t>(column / block_places);
        const auto [block, fresh] = blocks.try_emplace(key);
        if (fresh) order.push_back(key);
        const std::uint64_t hash = mixed(place * 31ULL + eye);
        if (hash < block->second.hash) block->second = {hash, place};
      }
    }
  std::vector<Pair> pairs;
  for (const std::uint64_t key : order) pairs.push_back({eye, true, blocks[key].place});
  return pairs;
}

// An eighth of the smallest kind: some sixty places on each filler say enough, and others are added where a
// cover leaves them bare.
int blockPlaces(const FillerMaker& maker, double pitch_mm) {
  double smallest = 1e9;
  for (const FillerKind& kind : maker.kinds())
    smallest = std::min(smallest, std::sqrt(kind.diameter_mm * kind.width_mm));
  return std::clamp(static_cast<int>(smallest / 9 / pitch_mm), 2, 16);
}

void clear(PlaceBits& from, const PlaceBits& hidden) {
  // Both in whole words of the grid's columns.
  for (int row = 0; row < hidden.rows; ++row) {
    const int target_row = row + hidden.row0 - from.row0;
    if (target_row < 0 || target_row >= from.rows) continue;
    for (int w = 0; w < hidden.words_per_row; ++w) {
      const int target = w + (hidden.column0 - from.column0) / 64;
      if (target >= from.words_per_row) continue;
      from.bits[static_cast<std::size_t>(target_row) * static_cast<std::size_t>(from.words_per_row) +
                static_cast<std::size_t>(target)] &=
          ~hidden.bits[static_cast<std::size_t>(row) * static_cast<std::size_t>(hidden.words_per_row) +
                       static_cast<std::size_t>(w)];
    }
  }
}

double sheetsOf(const Bloom& bloom) {
  double sum = 0;
  for (const Card& card : bloom.card) sum += card.sheets;
  return sum;
}

}  // namespace

std::vector<int> stockLeft(const Plan& plan, const FillerMaker& maker) {
  std::vector<int> left;
  for (const FillerKind& kind : maker.kinds()) {
    const Bloom& bloom = plan.blooms[static_cast<std::size_t>(kind.kind)];
    const auto hung = std::count_if(plan.fillers.begin(), plan.fillers.end(), [&](const Filler& filler) {
      return filler.placement.bloom == bloom.name;
    });
    left.push_back(bloom.stock ? std::max(0, *bloom.stock - static_cast<int>(hung)) : -1);
  }
  return left;
}

FillerSearch::FillerSearch(const SearchTask& task)
    : task_(task),
      grid_(task.sites.grid()),
      block_places_(blockPlaces(task.maker, task.sites.grid().pitch_mm)),
      pairs_(task.sites.grid()) {}

std::vector<Candidate> FillerSearch::cover(const MustHide& all) {
  eyes_ = all.eyes;
  const bool first = candidates_.empty();
  if (first) {
    addInitial(all);
    addLattices(all);
  }
  std::vector<Pair> start;
  for (std::uint32_t eye = 0; eye < all.eyes.size(); ++eye) {
    const std::vector<Pair> some = oneInEachBlock(all.eyes[eye].places, eye, grid_, block_places_);
    start.insert(start.end(), some.begin(), some.end());
    for (std::uint32_t k = 0; k < all.eyes[eye].others.size(); ++k) start.push_back({eye, false, k});
  }
  pairs_.add(all, start);
  extendCovers(all);
  const int last = ++calls_ > 2 ? 0 : first ? rounds : 1;
  for (int round = 0; round < last && !stop(); ++round) {
    const bool is_last = round + 1 == last;
    settle(all, is_last ? 4 * someMoves() : someMoves(), is_last ? most_extensions : 3);
    if (task_.progress) task_.progress((round + 1.0) / (last + 1));
    addFor();
    if (round + 1 < last) {
      addNear();
      addPriced(all);
    }
    extendCovers(all);
  }
  if (last > 0 && !uncovered_.empty()) settle(all, someMoves(), most_extensions / 2);
  repair(all);
  std::vector<Candidate> answer;
  for (const std::uint32_t k : chosen_) answer.push_back(candidates_[k]);
  return answer;
}

std::uint64_t FillerSearch::someMoves() const {
  std::size_t covered = 0;
  for (const std::vector<std::uint32_t>& covers : covers_) covered = std::max(covered, covers.size());
  const std::uint64_t fillers = covered == 0 ? 0 : 2 * pairs_.size() / covered;
  return std::clamp(moves_each * fillers, fewest_moves, most_moves);
}

// Solves, looks where the solution leaves something bare that was not looked at, and solves again.
void FillerSearch::settle(const MustHide& all, std::uint64_t moves, int most) {
  solve(moves);
  uncovered_ = leftBare(all);
  for (int again = 0; again < most && extendPairs(all, uncovered_) && !stop(); ++again) {
    solve(moves / 4);
    uncovered_ = leftBare(all);
  }
}

void FillerSearch::propose(const std::vector<Proposal>& proposals) {
  std::vector<Candidate> fresh;
  for (const Proposal& one : proposals) {
    Candidate candidate{one.kind, task_.sites.nearestSite(one.board_mm), one.turn_deg, {}};
    const Key key(one.kind, candidate.site.at.from_left.value, candidate.site.at.from_top.value,
                  one.turn_deg);
    if (!known_.emplace(key, 0).second) continue;
    fresh.push_back(std::move(candidate));
  }
  std::vector<char> usable(fresh.size(), 0);
  forEach(fresh.size(), [&](std::size_t k) {
    Candidate& one = fresh[k];
    const Barred barred = task_.sites.bars(one.kind, one.site, one.turn_deg, &one.takes);
    usable[k] = barred.by == Bar::none ? 1 : 0;
  });
  for (std::size_t k = 0; k < fresh.size(); ++k) {
    if (usable[k] == 0) continue;
    candidates_.push_back(std::move(fresh[k]));
    covers_.emplace_back();
    covers_known_.push_back(0);
  }
}

void FillerSearch::addInitial(const MustHide& all) {
  WantedMap wanted(grid_, block_places_ * grid_.pitch_mm);
  for (std::uint32_t eye = 0; eye < all.eyes.size(); ++eye) {
    const PlaceBits& bits = all.eyes[eye].places;
    for (int row = 0; row < bits.rows; ++row)
      for (int column = 0; column < bits.columns; ++column)
        if (bits.has(column, row)) wanted.add({grid_.x.at(column), grid_.y.at(row)}, 1);
    for (const glm::dvec2& place : all.eyes[eye].others) wanted.add(place, 1);
  }
  ScanOptions options;
  options.seed = task_.seed;
  const std::vector<Proposal> proposals = scanSites(task_.maker, task_.sites, wanted, options);
  if (!proposals.empty() && !all.eyes.empty())
    widest_ = static_cast<double>(proposals.front().worth) / static_cast<double>(all.eyes.size());
  propose(proposals);
}

// What each pair is worth: a filler costs 1, shared by the pairs that only it hides.
void FillerSearch::addPriced(const MustHide&) {
  std::vector<std::uint16_t> times(pairs_.size(), 0);
  for (const std::uint32_t k : chosen_)
    for (const std::uint32_t pair : covers_[k]) ++times[pair];
  WantedMap wanted(grid_, block_places_ * grid_.pitch_mm);
  for (const std::uint32_t k : chosen_) {
    const auto alone = std::count_if(covers_[k].begin(), covers_[k].end(),
                                     [&](std::uint32_t pair) { return times[pair] == 1; });
    for (const std::uint32_t pair : covers_[k])
      if (times[pair] == 1) wanted.add(pairs_.at(pair), 1.0F / static_cast<float>(alone));
  }
  ScanOptions options;
  options.seed = task_.seed;
  options.pitch_mm = 5;
  options.turns = 24;
  options.each_cell = 6;
  options.least_worth = 0.8F;
  propose(scanSites(task_.maker, task_.sites, wanted, options));
}

void FillerSearch::addNear() {
  std::vector<Proposal> proposals;
  const double step = task_.sites.tapeStep_mm();
  for (const std::uint32_t k : chosen_) {
    const Candidate& one = candidates_[k];
    const double reach = task_.maker.kinds()[one.kind].diameter_mm / 24;
    for (const double far : {step, std::max(2 * step, reach), std::max(4 * step, 2.5 * reach)})
      for (int direction = 0; direction < 8; ++direction) {
        const double a = pi / 4 * direction;
        const glm::dvec2 at = one.site.board_mm + glm::dvec2(std::cos(a), std::sin(a)) * far;
        proposals.push_back({one.kind, at, one.turn_deg, 0});
      }
    for (const int turn : {-20, -8, 8, 20})
      proposals.push_back({one.kind, one.site.board_mm, ((one.turn_deg + turn) % 360 + 360) % 360, 0});
  }
  propose(proposals);
}

// Hexagonal lattices over wide bare areas: the thinnest way to cover a plane with discs (R. Kershner, "The
// number of circles covering a set", American Journal of Mathematics 61, 1939).
void FillerSearch::addLattices(const MustHide& all) {
  const auto wide = [&](std::size_t kind) {
    const double area =
        pi / 4 * std::pow(task_.maker.kinds()[kind].diameter_mm, 2) / std::pow(grid_.pitch_mm, 2);
    for (const Eye& eye : all.eyes) {
      double places = 0;
      for (const std::uint64_t word : eye.places.bits) places += __builtin_popcountll(word);
      if (places > 8 * area && widest_ > 0.8 * area) return true;
    }
    return false;
  };
  const auto add = [&](std::size_t kind, double radius, glm::dvec2 phase, bool upright) {
    const std::size_t before = candidates_.size();
    std::vector<Proposal> proposals;
    const double across = std::sqrt(3.0) * radius;
    const double down = 1.5 * radius;
    const double width = task_.scene.panels.width_mm();
    const double height = task_.scene.panels.height_mm();
    const double u_size = upright ? height : width;
    const double v_size = upright ? width : height;
    for (int row = 0; row * down <= v_size + 2 * radius; ++row)
      for (int column = 0; column * across <= u_size + 2 * radius; ++column) {
        const double u = phase.x * across + (column + (row % 2) * 0.5 - 0.5) * across;
        const double v = phase.y * down + (row - 0.25) * down;
        const glm::dvec2 at = upright ? glm::dvec2(v, u) : glm::dvec2(u, v);
        proposals.push_back({kind, glm::clamp(at, glm::dvec2(0), glm::dvec2(width, height)), 0, 0});
      }
    propose(proposals);
    std::vector<std::uint32_t> lattice;
    for (std::size_t k = before; k < candidates_.size(); ++k)
      lattice.push_back(static_cast<std::uint32_t>(k));
    if (lattice.size() > 8) lattices_.push_back(std::move(lattice));
  };
  for (std::size_t kind = 0; kind < task_.maker.kinds().size(); ++kind) {
    if (task_.maker.kinds()[kind].greenery || !wide(kind)) continue;
    const double radius = task_.maker.kinds()[kind].diameter_mm / 2 - 1.5 * task_.sites.tapeStep_mm() / 2;
    for (const double x : {0.0, 0.25, 0.5, 0.75})
      for (const double y : {0.0, 0.33, 0.66}) {
        add(kind, radius, {x, y}, false);
        add(kind, radius, {x, y}, true);
      }
  }
}

// A close look around pairs that no candidate hides.
void FillerSearch::addFor() {
  std::vector<char> hidden(pairs_.size(), 0);
  for (const std::vector<std::uint32_t>& covers : covers_)
    for (const std::uint32_t pair : covers) hidden[pair] = 1;
  WantedMap wanted(grid_, block_places_ * grid_.pitch_mm);
  bool any = false;
  for (const std::uint32_t k : bare_) {
    const glm::dvec2 at = pairs_.at(k);
    const std::pair<int, int> block(static_cast<int>(at.x / 8), static_cast<int>(at.y / 8));
    if (hidden[k] != 0 || !looked_at_.insert(block).second) continue;
    wanted.add(at, 1);
    any = true;
  }
  if (!any) return;
  ScanOptions options;
  options.seed = task_.seed;
  options.pitch_mm = 3;
  options.turns = 24;
  options.each_cell = 6;
  propose(scanSites(task_.maker, task_.sites, wanted, options));
}

std::vector<Pair> FillerSearch::leftBare(const MustHide& all) const {
  std::vector<std::vector<Pair>> found(all.eyes.size());
  forEach(all.eyes.size(), [&](std::size_t eye) {
    PlaceBits bare = all.eyes[eye].places;
    std::vector<char> hidden(all.eyes[eye].others.size(), 0);
    for (const std::uint32_t k : chosen_) {
      const Silhouette seen = silhouetteOf(task_.maker, candidates_[k], all.eyes[eye].at);
      clear(bare, placesHidden(seen, grid_));
      for (std::size_t other = 0; other < hidden.size(); ++other)
        if (hidden[other] == 0 && hides(seen, all.eyes[eye].others[other])) hidden[other] = 1;
    }
    found[eye] = oneInEachBlock(bare, static_cast<std::uint32_t>(eye), grid_, std::max(1, block_places_ / 3));
    for (std::size_t other = 0; other < hidden.size(); ++other)
      if (hidden[other] == 0)
        found[eye].push_back({static_cast<std::uint32_t>(eye), false, static_cast<std::uint32_t>(other)});
  });
  std::vector<Pair> left;
  for (const auto& some : found) left.insert(left.end(), some.begin(), some.end());
  return left;
}

bool FillerSearch::extendPairs(const MustHide& all, const std::vector<Pair>& left) {
  const std::size_t before = pairs_.size();
  // Beside what the cover leaves bare anyway there is nothing to learn.
  const auto blockOf = [&](const Pair& pair) {
    return std::tuple(pair.eye, grid_.columnOf(pair.index) / block_places_,
                      grid_.rowOf(pair.index) / block_places_);
  };
  std::set<std::tuple<std::uint32_t, int, int>> given_up;
  for (const std::uint32_t k : bare_)
    if (pairs_[k].on_grid) given_up.insert(blockOf(pairs_[k]));
  std::vector<Pair> fresh;
  for (const Pair& pair : left)
    if (!pair.on_grid || given_up.count(blockOf(pair)) == 0) fresh.push_back(pair);
  pairs_.add(all, fresh);
  if (pairs_.size() == before) return false;
  extendCovers(all);
  return true;
}

void FillerSearch::extendCovers(const MustHide&) {
  const std::size_t now = pairs_.size();
  forEach(candidates_.size(), [&](std::size_t k) {
    if (covers_known_[k] == now) return;
    const std::vector<std::uint32_t> more =
        pairs_.hidden(task_.maker, candidates_[k], eyes_, covers_known_[k]);
    covers_[k].insert(covers_[k].end(), more.begin(), more.end());
    covers_known_[k] = now;
  });
}

bool FillerSearch::clash(const Candidate& a, const Candidate& b) const {
  const FillerKind& kind_a = task_.maker.kinds()[a.kind];
  const FillerKind& kind_b = task_.maker.kinds()[b.kind];
  const double apart = glm::length(a.site.board_mm - b.site.board_mm);
  if (apart < (kind_a.plate_mm + kind_b.plate_mm) / 2 + 0.01) return true;
  if (kind_a.diameter_mm == kind_b.diameter_mm) return false;
  const bool a_larger = kind_a.diameter_mm > kind_b.diameter_mm;
  const Candidate& large = a_larger ? a : b;
  const Candidate& small = a_larger ? b : a;
  const FillerKind& small_kind = a_larger ? kind_b : kind_a;
  const InnerHalf inner =
      task_.sites.innerHalfOf(a_larger ? kind_a : kind_b, large.site.board_mm, large.turn_deg);
  if (apart > inner.half_length + small_kind.diameter_mm / 2) return false;
  // A disc; greenery as a row of discs along its length.
  const double radius = small_kind.width_mm / 2;
  const double half = (small_kind.diameter_mm - small_kind.width_mm) / 2;
  const double turn = radians(small.turn_deg);
  for (const double share : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
    const glm::dvec2 at = small.site.board_mm + glm::dvec2(std::sin(turn), std::cos(turn)) * (share * half);
    if (reachesInto(inner, at, radius)) return true;
    if (half <= 0) break;
  }
  return false;
}

std::vector<std::vector<std::uint32_t>> FillerSearch::conflicts() const {
  double reach = 1;
  for (const FillerKind& kind : task_.maker.kinds())
    reach = std::max({reach, kind.plate_mm, kind.diameter_mm * 0.8});
  std::map<std::pair<int, int>, std::vector<std::uint32_t>> bins;
  const auto bin = [&](std::uint32_t k) {
    const glm::dvec2 at = candidates_[k].site.board_mm / reach;
    return std::pair(static_cast<int>(std::floor(at.x)), static_cast<int>(std::floor(at.y)));
  };
  for (std::uint32_t k = 0; k < candidates_.size(); ++k) bins[bin(k)].push_back(k);
  std::vector<std::vector<std::uint32_t>> found(candidates_.size());
  forEach(candidates_.size(), [&](std::size_t k) {
    const auto [column, row] = bin(static_cast<std::uint32_t>(k));
    for (int r = row - 1; r <= row + 1; ++r)
      for (int c = column - 1; c <= column + 1; ++c) {
        const auto near = bins.find({c, r});
        if (near == bins.end()) continue;
        for (const std::uint32_t other : near->second)
          if (other != k && clash(candidates_[k], candidates_[other])) found[k].push_back(other);
      }
    std::sort(found[k].begin(), found[k].end());
  });
  return found;
}

CoverProblem FillerSearch::problem() const {
  CoverProblem made;
  made.elements = static_cast<std::uint32_t>(pairs_.size());
  made.value.resize(pairs_.size());
  forEach(pairs_.size(), [&](std::size_t k) {
    const Owner owner = ownerOf(task_.scene.panels, {pairs_.at(k)});
    made.value[k] = owner.kind == GapKind::crossing ? crossing_value : 1;
  });
  double most_sheets = 1e-9;
  for (const FillerKind& kind : task_.maker.kinds())
    most_sheets = std::max(most_sheets, sheetsOf(task_.plan.blooms[static_cast<std::size_t>(kind.kind)]));
  std::map<std::int64_t, std::uint32_t> resources;  // -1 - kind, or a bloom
  const auto resource = [&](std::int64_t what, double limit) {
    const auto [known, fresh] = resources.try_emplace(what, static_cast<std::uint32_t>(made.limits.size()));
    if (fresh) made.limits.push_back(limit);
    return known->second;
  };
  const std::vector<int> stock = stockLeft(task_.plan, task_.maker);
  for (std::size_t k = 0; k < candidates_.size(); ++k) {
    const Candidate& one = candidates_[k];
    CoverSet set;
    set.covers = covers_[k];
    const Bloom& bloom = task_.plan.blooms[static_cast<std::size_t>(task_.maker.kinds()[one.kind].kind)];
    set.weight = 1 + most_extra_weight * sheetsOf(bloom) / most_sheets;
    if (stock[one.kind] >= 0)
      set.uses.push_back({resource(-1 - static_cast<std::int64_t>(one.kind), stock[one.kind]), 1.0});
    for (const FaceHidden& face : one.takes)
      set.uses.push_back(
          {resource(face.bloom, task_.sites.faceLimit(face.bloom)), static_cast<double>(face.places)});
    made.sets.push_back(std::move(set));
  }
  made.conflicts = conflicts();
  return made;
}

void FillerSearch::solve(std::uint64_t moves) {
  const CoverProblem made = problem();
  CoverOptions options;
  options.seed = task_.seed;
  options.moves = moves;
  options.start = chosen_;
  options.cancelled = task_.cancelled;
  CoverResult best = coverSets(made, options);
  const auto better = [](const CoverResult& a, const CoverResult& b) {
    return std::pair(a.uncovered.size(), a.chosen.size()) < std::pair(b.uncovered.size(), b.chosen.size());
  };
  for (const std::vector<std::uint32_t>& lattice : lattices_) {
    options.start = lattice;
    options.moves = moves / 4;
    CoverResult other = coverSets(made, options);
    if (better(other, best)) best = std::move(other);
  }
  lattices_.clear();
  chosen_ = std::move(best.chosen);
  bare_ = std::move(best.uncovered);
}

std::vector<glm::dvec2> FillerSearch::givenUp() const {
  std::vector<glm::dvec2> places;
  for (const Pair& pair : uncovered_)
    places.push_back(pair.on_grid ? grid_.at(pair.index) : eyes_[pair.eye].others[pair.index]);
  return places;
}

}  // namespace petalproof
