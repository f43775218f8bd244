#include "engine/advice/internal/remedy_search.h"

#include "engine/camera/looked_at.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace petalproof::advice {
namespace {

// People fill as much of the frame as before, to this share of it.
constexpr double largest_people_change = 0.1;
constexpr double fewest_megapixels = 1;

// With only as many pixels as the delivered picture is looked at with, never more than it has.
plan::Shot coarse(const plan::Shot& shot, const camera::WallFrame& wall) {
  const auto camera = camera::makeCamera(shot, wall);
  if (!camera) return shot;
  const camera::WorkingSize size =
      camera::workingSizeOf(*camera.value, camera::viewingOf(shot, *camera.value, wall.units));
  const double share = static_cast<double>(size.width_px) / camera.value->width_px;
  plan::Shot rough = shot;
  rough.megapixels = std::min(shot.megapixels, std::max(fewest_megapixels, shot.megapixels * share * share));
  return rough;
}

bool fillsAlike(double before, double after) {
  return std::abs(after - before) <= largest_people_change * before;
}

// More of these only ever blurs or shrinks the wall more.
bool isMonotone(ChangeKind kind) { return kind == ChangeKind::people || kind == ChangeKind::stop; }

class RemedySearch {
 public:
  RemedySearch(const RemedyTask& task, const ShotReader& read, const std::function<void(double)>& progress)
      : task_(task), read_(read), progress_(progress), roughly_(task.changes.size()) {
    advice_.shot = task.asked.shot.name;
    advice_.now = countsOf(task.asked.now.holes);
    advice_.six_largest = task.asked.now.six_largest;
  }

  ShotAdvice run() && {
    std::size_t from = 0;
    while (from < task_.changes.size() && !advice_.remedy) {
      std::size_t to = from;
      while (to < task_.changes.size() && task_.changes[to].kind == task_.changes[from].kind) ++to;
      tryKind(from, to);
      from = to;
    }
    if (!advice_.remedy) confirmBest();
    return std::move(advice_);
  }

 private:
  // A change looked at; nothing where people fill the frame otherwise than before.
  struct Rough {
    std::optional<check::ReadingCounts> counts;
  };

  void tryKind(std::size_t from, std::size_t to) {
    std::map<int, bool> promising;  // by direction
    for (std::size_t k = to; k-- > from;) {
      const int direction = directionOf(task_.changes[k]);
      if (promising.contains(direction)) continue;
      if (const auto counts = roughly(k)) promising[direction] = isPromising(task_.changes[k].kind, *counts);
    }
    for (std::size_t k = from; k < to && !advice_.remedy; ++k)
      if (promising[directionOf(task_.changes[k])]) tryOne(k);
  }

  // Left and right, up and down, longer and shorter lenses; each end of a zoom by itself.
  int directionOf(const ShotChange& change) const {
    if (change.kind != ChangeKind::lens) return change.amount < 0 ? -1 : 1;
    return change.amount < task_.asked.shot.lens.to_mm.value_or(task_.asked.shot.lens.mm) ? -1 : 1;
  }

  bool isPromising(ChangeKind kind, const check::ReadingCounts& counts) const {
    const int share = isMonotone(kind) ? 20 : 2;
    return counts.show <= advice_.now.show / share;
  }

  const std::optional<check::ReadingCounts>& roughly(std::size_t k) {
    if (roughly_[k]) return roughly_[k]->counts;
    progress_(static_cast<double>(k) / static_cast<double>(task_.changes.size()));
    const SeenShot seen = read_(coarse(task_.changes[k].shot, task_.wall), task_.colours);
    roughly_[k].emplace();
    if (!fillsAlike(task_.asked.now.people_share, seen.people_share)) return roughly_[k]->counts;
    roughly_[k]->counts = countsOf(seen.holes);
    ++advice_.tried;
    keepBest(k, *roughly_[k]->counts, false);
    return roughly_[k]->counts;
  }

  void tryOne(std::size_t k) {
    const auto& rough = roughly(k);
    if (!rough || rough->show > 0) return;
    const check::ReadingCounts counts = fully(k);
    if (counts.show == 0)
      advice_.remedy = TriedChange{task_.changes[k], counts};
    else
      keepBest(k, counts, true);
  }

  check::ReadingCounts fully(std::size_t k) const {
    return countsOf(read_(task_.changes[k].shot, task_.colours).holes);
  }

  void keepBest(std::size_t k, const check::ReadingCounts& counts, bool confirmed) {
    if (confirmed && best_ == k) best_counts_ = counts;
    if (best_ && counts.show >= best_counts_.show) return;
    best_ = k;
    best_counts_ = counts;
    best_is_confirmed_ = confirmed;
  }

  void confirmBest() {
    if (!best_) return;
    if (!best_is_confirmed_) best_counts_ = fully(*best_);
    const TriedChange best{task_.changes[*best_], best_counts_};
    if (best_counts_.show == 0)
      advice_.remedy = best;  // the rough look saw more than there is
    else if (worthSaying(best_counts_.show, advice_.now.show))
      advice_.best = best;
  }

  const RemedyTask& task_;
  const ShotReader& read_;
  const std::function<void(double)>& progress_;
  std::vector<std::optional<Rough>> roughly_;
  ShotAdvice advice_;
  std::optional<std::size_t> best_;
  check::ReadingCounts best_counts_;
  bool best_is_confirmed_ = false;
};

}  // namespace

ShotAdvice remedyFor(const RemedyTask& task, const ShotReader& read,
                     const std::function<void(double)>& progress) {
  return RemedySearch(task, read, progress).run();
}

}  // namespace petalproof::advice
