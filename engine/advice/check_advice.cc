#include "engine/advice/check_advice.h"

#include <algorithm>
#include <functional>
#include <numeric>
#include <optional>
#include <utility>

namespace petalproof::advice {
namespace {

// What share of the area of all that shows its six largest holes make.
double sixLargest(const check::ShotCheck& shot) {
  std::vector<double> areas;
  for (std::size_t k = 0; k < shot.readings.size(); ++k)
    if (shot.readings[k].reads == reading::Reads::shows) areas.push_back(shot.found.holes[k].whole.area_mm2);
  std::sort(areas.begin(), areas.end(), std::greater<>());
  const auto six = areas.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(6, areas.size()));
  const double all = std::accumulate(areas.begin(), areas.end(), 0.0);
  return all > 0 ? std::accumulate(areas.begin(), six, 0.0) / all : 0;
}

SeenShot seenOf(const check::ShotCheck& shot) {
  SeenShot seen;
  for (const reading::Reading& reading : shot.readings) seen.holes.push_back(reading.reads);
  seen.six_largest = sixLargest(shot);
  seen.people_share = shot.shares.people;
  return seen;
}

// Keeps what the last shot saw: the next is often the same in other colours.
class Reader {
 public:
  Reader(check::ShotChecker& checker, const std::stop_token& stop) : checker_(checker), stop_(stop) {}

  SeenShot read(const plan::Shot& shot, const scene::SceneColours& colours) {
    // Of a zoom the colours decide which end is the worse one.
    if (last_ && last_->shot == shot && !shot.lens.to_mm) {
      last_->readings = checker_.readAgain(*last_, checker_.seen(), colours, stop_);
      return seenOf(*last_);
    }
    Result<check::ShotCheck> checked = checker_.check(shot, {}, colours, {}, stop_);
    last_ = std::move(checked.value);
    return last_ ? seenOf(*last_) : SeenShot{};
  }

 private:
  check::ShotChecker& checker_;
  const std::stop_token& stop_;
  std::optional<check::ShotCheck> last_;
};

// Each shot is read by the checker that read it.
Advice adviceOn(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                check::ShotChecker& checker, const check::CheckOptions& options) {
  AdviceTask task{loaded.plan, scene.colours, {}, options.progress};
  for (const check::ShotCheck& shot : check.shots) task.shots.push_back({shot.shot, seenOf(shot)});
  Reader reader(checker, options.stop);
  return adviseOn(task, [&](const plan::Shot& shot, const scene::SceneColours& colours) {
    return reader.read(shot, colours);
  });
}

}  // namespace

Result<AdvisedCheck> checkWithAdvice(const plan::LoadedPlan& loaded, const scene::Scene& scene,
                                     const Pool& pool, const check::CheckOptions& options) {
  check::ShotChecker checker(loaded, scene, pool, options.readings);
  Result<check::Check> check = check::runCheck(loaded, scene, options, checker);
  if (!check) return Result<AdvisedCheck>::failure(std::move(check.problems));
  Advice advice = adviceOn(*check.value, loaded, scene, checker, options);
  return Result<AdvisedCheck>::success({std::move(*check.value), std::move(advice)});
}

}  // namespace petalproof::advice
