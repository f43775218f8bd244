#include "engine/cover/packing.h"

#include "engine/cover/internal/cover_program.h"
#include "engine/cover/internal/lists.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

namespace petalproof::cover {
namespace {

Lists itemsOf(const PackingProblem& problem) {
  Lists lists;
  for (const auto& group : problem.groups) {
    lists.items.insert(lists.items.end(), group.begin(), group.end());
    lists.close();
  }
  return lists;
}

// Divided by the heaviest group that an item is in: then no group weighs more than 1.
void makeFit(const Lists& items_of, const Lists& groups_of, std::vector<double>& weights) {
  std::vector<double> most(weights.size(), 0);
  std::vector<double> loads(items_of.count(), 0);
  for (std::uint32_t g = 0; g < items_of.count(); ++g) {
    for (const std::uint32_t item : items_of[g]) loads[g] += weights[item];
    for (const std::uint32_t item : items_of[g]) most[item] = std::max(most[item], loads[g]);
  }
  for (std::uint32_t item = 0; item < weights.size(); ++item) {
    if (groups_of[item].empty()) weights[item] = 0;
    if (most[item] > 1) weights[item] /= most[item];
  }
}

void fillUp(const Lists& items_of, const Lists& groups_of, std::vector<double>& weights) {
  std::vector<double> room(items_of.count(), 1);
  for (std::uint32_t g = 0; g < items_of.count(); ++g)
    for (const std::uint32_t item : items_of[g]) room[g] -= weights[item];
  for (std::uint32_t item = 0; item < weights.size(); ++item) {
    if (groups_of[item].empty()) continue;
    double least = 1;
    for (const std::uint32_t g : groups_of[item]) least = std::min(least, room[g]);
    if (least <= 0) continue;
    weights[item] += least;
    for (const std::uint32_t g : groups_of[item]) room[g] -= least;
  }
}

void fit(const Lists& items_of, const Lists& groups_of, std::vector<double>& weights) {
  makeFit(items_of, groups_of, weights);
  fillUp(items_of, groups_of, weights);
}

// Numbers of groups, each group of equal ones once.
std::vector<std::uint32_t> differentGroups(const PackingProblem& problem) {
  std::vector<std::uint32_t> numbers(problem.groups.size());
  std::iota(numbers.begin(), numbers.end(), 0U);
  const auto& groups = problem.groups;
  std::sort(numbers.begin(), numbers.end(), [&](std::uint32_t a, std::uint32_t b) {
    return groups[a] != groups[b] ? groups[a] < groups[b] : a < b;
  });
  numbers.erase(std::unique(numbers.begin(), numbers.end(),
                            [&](std::uint32_t a, std::uint32_t b) { return groups[a] == groups[b]; }),
                numbers.end());
  return numbers;
}

// The program with few groups at first: those that are heavy by `weights`, and those that items need that
// are in none of these; then with all that come out too heavy, until none does.
class Columns {
 public:
  Columns(const PackingProblem& problem, const std::stop_token& stop)
      : problem_(problem),
        left_out_(differentGroups(problem)),
        must_cover_(itemsIn(left_out_)),
        program_(must_cover_, stop) {}

  void addFirst(const std::vector<double>& weights) {
    constexpr double heavy = 0.9;
    const std::vector<double> loads = loadsOf(problem_, weights);
    std::vector<char> missing = must_cover_;
    add([&](std::uint32_t group) {
      const std::vector<std::uint32_t>& items = problem_.groups[group];
      if (loads[group] < heavy &&
          std::none_of(items.begin(), items.end(), [&](std::uint32_t item) { return missing[item] != 0; }))
        return false;
      for (const std::uint32_t item : items) missing[item] = 0;
      return true;
    });
  }

  // False where no group was too heavy.
  bool addTooHeavy(const std::vector<double>& weights) {
    const std::vector<double> loads = loadsOf(problem_, weights);
    return add([&](std::uint32_t group) { return loads[group] > 1 + tolerance; });
  }

  CoverProgram& program() { return program_; }

 private:
  static constexpr double tolerance = 1e-7;  // CLP's own

  std::vector<char> itemsIn(const std::vector<std::uint32_t>& groups) const {
    std::vector<char> in(problem_.items, 0);
    for (const std::uint32_t group : groups)
      for (const std::uint32_t item : problem_.groups[group]) in[item] = 1;
    return in;
  }

  template <class Wanted>
  bool add(const Wanted& wanted) {
    std::vector<const std::vector<std::uint32_t>*> fresh;
    std::vector<std::uint32_t> others;
    for (const std::uint32_t group : left_out_)
      if (wanted(group))
        fresh.push_back(&problem_.groups[group]);
      else
        others.push_back(group);
    left_out_ = std::move(others);
    program_.add(fresh);
    return !fresh.empty();
  }

  const PackingProblem& problem_;
  std::vector<std::uint32_t> left_out_;
  std::vector<char> must_cover_;
  CoverProgram program_;
};

// Items that groups connect.
class Parts {
 public:
  explicit Parts(const PackingProblem& problem) : above_(problem.items) {
    std::iota(above_.begin(), above_.end(), 0U);
    for (const auto& group : problem.groups)
      for (const std::uint32_t item : group) above_[of(item)] = of(group.front());
  }
  std::uint32_t of(std::uint32_t item) {
    while (above_[item] != item) item = above_[item] = above_[above_[item]];
    return item;
  }

 private:
  std::vector<std::uint32_t> above_;
};

}  // namespace

double weightOf(const std::vector<double>& weights) {
  return std::accumulate(weights.begin(), weights.end(), 0.0);
}

std::vector<double> fitted(const PackingProblem& problem, std::vector<double> weights) {
  const Lists items_of = itemsOf(problem);
  const Lists groups_of = items_of.turnedRound(problem.items);
  weights.resize(problem.items, 0);
  fit(items_of, groups_of, weights);
  return weights;
}

std::vector<double> loadsOf(const PackingProblem& problem, const std::vector<double>& weights) {
  std::vector<double> loads;
  for (const auto& group : problem.groups) {
    double load = 0;
    for (const std::uint32_t item : group) load += weights[item];
    loads.push_back(load);
  }
  return loads;
}

std::vector<double> heaviestPacking(const PackingProblem& problem, std::vector<double> start,
                                    const std::stop_token& stop) {
  std::vector<double> best = fitted(problem, std::move(start));
  Columns columns(problem, stop);
  columns.addFirst(best);
  std::vector<double> weights;
  do {
    if (!columns.program().solve()) return best;
    weights = columns.program().weights();
  } while (columns.addTooHeavy(weights));
  weights = fitted(problem, std::move(weights));
  return weightOf(weights) > weightOf(best) ? weights : best;
}

int fewestGroups(const PackingProblem& problem, const std::vector<double>& weights) {
  constexpr double rounding = 1e-6;  // far above what doubles lose on a million items
  const std::vector<double> loads = loadsOf(problem, weights);
  const double heaviest = loads.empty() ? 1 : std::max(1.0, *std::max_element(loads.begin(), loads.end()));
  Parts parts(problem);
  std::vector<double> of_part(problem.items, 0);
  for (std::uint32_t item = 0; item < problem.items; ++item) of_part[parts.of(item)] += weights[item];
  int fewest = 0;
  for (const double weight : of_part)
    fewest += std::max(0, static_cast<int>(std::ceil(weight / heaviest * (1 - rounding) - rounding)));
  return fewest;
}

}  // namespace petalproof::cover
