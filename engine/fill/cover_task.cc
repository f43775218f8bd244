#include "engine/fill/cover_task.h"

#include <algorithm>
#include <map>
#include <utility>

namespace petalproof::fill {
namespace {

// A filler's sheets of card add at most this to its weight of 1: those of a thousand fillers never outweigh
// a filler.
constexpr double most_extra_weight = 5e-4;

double sheetsOf(const plan::Bloom& bloom) {
  double sum = 0;
  for (const plan::Card& card : bloom.card) sum += card.sheets;
  return sum;
}

// Numbers the resources in use: faces of blooms by their index, stock of a kind by -1 - kind.
class Resources {
 public:
  explicit Resources(std::vector<double>& limits) : limits_(limits) {}
  std::uint32_t number(std::int64_t resource, double limit) {
    const auto [known, fresh] = numbers_.try_emplace(resource, static_cast<std::uint32_t>(limits_.size()));
    if (fresh) limits_.push_back(limit);
    return known->second;
  }

 private:
  std::vector<double>& limits_;
  std::map<std::int64_t, std::uint32_t> numbers_;
};

}  // namespace

cover::CoverProblem coverProblem(const candidates::SearchTask& task, const candidates::CandidatePool& pool,
                                 std::vector<double> values,
                                 const std::vector<std::vector<std::uint32_t>>& covers) {
  cover::CoverProblem made;
  made.elements = static_cast<std::uint32_t>(values.size());
  made.value = std::move(values);
  double most_sheets = 1e-9;
  for (const scene::FillerKind& kind : task.maker.kinds())
    most_sheets = std::max(most_sheets, sheetsOf(task.plan.blooms[static_cast<std::size_t>(kind.kind)]));
  Resources resources(made.limits);
  const std::vector<int> stock = candidates::stockLeft(task.plan, task.maker);
  for (std::size_t k = 0; k < pool.size(); ++k) {
    const candidates::Candidate& candidate = pool[k];
    cover::CoverSet set;
    set.covers = covers[k];
    const plan::Bloom& bloom = task.plan.blooms[static_cast<std::size_t>(pool.kindOf(k).kind)];
    set.weight = 1 + most_extra_weight * sheetsOf(bloom) / most_sheets;
    if (stock[candidate.kind] >= 0)
      set.uses.push_back(
          {resources.number(-1 - static_cast<std::int64_t>(candidate.kind), stock[candidate.kind]), 1.0});
    for (const candidates::FaceHidden& face : candidate.takes)
      set.uses.push_back(
          {resources.number(face.bloom, task.sites.faceLimit(face.bloom)), static_cast<double>(face.places)});
    made.sets.push_back(std::move(set));
  }
  made.conflicts = pool.conflicts();
  return made;
}

}  // namespace petalproof::fill
