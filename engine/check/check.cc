#include "engine/check/check.h"

#include "engine/base/nearest_name.h"
#include "engine/plan/default_shots.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <utility>

namespace petalproof {
namespace {

struct PlannedShot {
  Shot shot;
  ShotPlaces places;
};

Place at(const std::vector<Place>& places, std::size_t k, const std::string& file) {
  return k < places.size() ? places[k] : Place{file, 0, 0};
}

std::vector<PlannedShot> shotsOf(const LoadedPlan& loaded) {
  const bool has_shots = !loaded.plan.shots.empty();
  const std::vector<Shot> shots = has_shots ? loaded.plan.shots : defaultShots(loaded.plan);
  const PlanPlaces& places = loaded.places;
  std::vector<PlannedShot> planned;
  for (std::size_t k = 0; k < shots.size(); ++k)
    planned.push_back({shots[k],
                       {at(places.shots, k, loaded.file), at(places.shot_cameras, k, loaded.file),
                        at(places.shot_aims, k, loaded.file), at(places.shot_focuses, k, loaded.file)}});
  return planned;
}

std::vector<Problem> unknownNames(const std::vector<PlannedShot>& planned,
                                  const std::vector<std::string>& names, const std::string& file) {
  std::vector<std::string> known;
  for (const PlannedShot& one : planned) known.push_back(one.shot.name);
  std::vector<Problem> problems;
  for (const std::string& name : names) {
    if (std::find(known.begin(), known.end(), name) != known.end()) continue;
    Problem problem;
    problem.place.file = file;
    problem.message = fmt::format("there is no shot \"{}\"{}", name, didYouMean(name, known));
    problems.push_back(std::move(problem));
  }
  return problems;
}

// In the plan's order, each once; all of them where no name is given.
std::vector<PlannedShot> selected(std::vector<PlannedShot> planned, const std::vector<std::string>& names) {
  const auto is_unwanted = [&](const PlannedShot& one) {
    return !names.empty() && std::find(names.begin(), names.end(), one.shot.name) == names.end();
  };
  planned.erase(std::remove_if(planned.begin(), planned.end(), is_unwanted), planned.end());
  return planned;
}

// A shot with one lens: its own, or one end of its zoom.
struct LensEnd {
  Shot shot;
  Camera camera;
};

void addOnce(std::vector<Problem>& problems, std::vector<Problem> more) {
  for (Problem& problem : more)
    if (std::find(problems.begin(), problems.end(), problem) == problems.end())
      problems.push_back(std::move(problem));
}

// For each shot its lens, or both ends of its zoom; what is wrong with any of them is added to `problems`.
std::vector<std::vector<LensEnd>> lensesOf(const std::vector<PlannedShot>& planned, const WallFrame& wall,
                                           std::vector<Problem>& problems) {
  std::vector<std::vector<LensEnd>> lenses;
  for (const PlannedShot& one : planned) {
    std::vector<LensEnd>& ends = lenses.emplace_back();
    for (Shot& end : zoomEnds(one.shot)) {
      Result<Camera> camera = makeCamera(end, wall, one.places);
      if (camera)
        ends.push_back({std::move(end), *camera.value});
      else
        addOnce(problems, std::move(camera.problems));
    }
  }
  return lenses;
}

double bareInGaps(const ShotCheck& shot) {
  double sum = shot.found.specks.area_mm2;
  for (const Gap& gap : shot.found.gaps) sum += gap.area_mm2;
  return sum;
}

// The steps of one shot after the other; keeps threads and buffers in between.
class Checker {
 public:
  Checker(const LoadedPlan& loaded, const Scene& scene, const CheckOptions& options)
      : wall_(wallFrameOf(loaded.plan)),
        room_(loaded.plan.wall.room),
        scene_(scene),
        options_(options),
        renderer_(options.threads) {}

  // With the worse of its lenses.
  ShotCheck check(const Shot& shot, const std::vector<LensEnd>& ends, BareMap& bare) {
    std::size_t worse = 0;
    ShotCheck done = see(ends[0]);
    for (std::size_t k = 1; k < ends.size(); ++k) {
      ShotCheck other = see(ends[k]);
      if (bareInGaps(other) > bareInGaps(done)) {
        done = std::move(other);
        worse = k;
      }
    }
    // The buffer is that of the last one seen.
    if (worse + 1 < ends.size()) render(ends[worse]);
    if (ends.size() > 1) addWarningOfOtherEnd(done, ends[1 - worse]);
    done.shot = shot;
    report(shot, "mapping bare board");
    addTo(bare, buffer_, scene_.panels, done.camera, options_.threads);
    if (options_.on_shot) options_.on_shot(done, buffer_);
    return done;
  }

  void expect(std::size_t lenses, std::size_t shots) { steps_ = 2 * lenses + shots; }

 private:
  void render(const LensEnd& end) { renderer_.render(scene_, end.camera, end.shot.people, wall_, buffer_); }

  ShotCheck see(const LensEnd& end) {
    const Shot& shot = end.shot;
    const Camera& camera = end.camera;
    report(shot, "seeing the wall");
    render(end);
    report(shot, "finding gaps");
    ShotCheck done;
    done.lens = shot.lens;
    done.camera = camera;
    done.focus = focusOf(camera, shot, wall_);
    done.shares = sharesOf(buffer_);
    done.off = offWall(camera, wall_);
    done.remedy = remedyFor(shot, wall_);
    done.room = roomForPeople(camera, shot, wall_);
    done.found = findGaps(buffer_, scene_.panels, camera, options_.threads);
    done.warnings = framingWarnings(camera, shot, wall_, room_);
    return done;
  }

  // A frame that is on the wall at the worse end of a zoom may run off it at the other.
  void addWarningOfOtherEnd(ShotCheck& done, const LensEnd& other) const {
    if (done.off.any() || !offWall(other.camera, wall_).any()) return;
    done.warnings.push_back(fmt::format("at the other end of the zoom, {:g} mm, the frame runs off the wall",
                                        other.shot.lens.mm));
  }

  void report(const Shot& shot, const char* doing) {
    if (options_.progress)
      options_.progress(static_cast<double>(done_) / static_cast<double>(steps_),
                        fmt::format("{}: {}", shot.name, doing));
    ++done_;
  }

  WallFrame wall_;
  Room room_;
  const Scene& scene_;
  const CheckOptions& options_;
  VisibilityRenderer renderer_;
  VisibilityBuffer buffer_;
  std::size_t steps_ = 1;
  std::size_t done_ = 0;
};

}  // namespace

Result<Check> runCheck(const LoadedPlan& loaded, const Scene& scene, const CheckOptions& options) {
  const std::vector<PlannedShot> all = shotsOf(loaded);
  std::vector<Problem> problems = unknownNames(all, options.shots, loaded.file);
  const std::vector<PlannedShot> planned = selected(all, options.shots);
  const std::vector<std::vector<LensEnd>> lenses = lensesOf(planned, wallFrameOf(loaded.plan), problems);
  if (!problems.empty()) return Result<Check>::failure(std::move(problems));

  Check check;
  check.bare = emptyBareMap(scene.panels);
  Checker checker(loaded, scene, options);
  std::size_t all_lenses = 0;
  for (const std::vector<LensEnd>& ends : lenses) all_lenses += ends.size();
  checker.expect(all_lenses, planned.size());
  for (std::size_t k = 0; k < planned.size(); ++k)
    check.shots.push_back(checker.check(planned[k].shot, lenses[k], check.bare));
  if (loaded.plan.shots.empty())
    check.warnings.push_back(
        fmt::format("the plan has no shot; it is checked with {} made for it", check.shots.size()));
  if (options.progress) options.progress(1, "done");
  return Result<Check>::success(std::move(check));
}

}  // namespace petalproof
