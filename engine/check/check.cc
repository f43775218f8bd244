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

// One a shot; what is wrong with any of them is added to `problems`.
std::vector<Camera> camerasOf(const std::vector<PlannedShot>& planned, const WallFrame& wall,
                              std::vector<Problem>& problems) {
  std::vector<Camera> cameras;
  for (const PlannedShot& one : planned) {
    Result<Camera> camera = makeCamera(one.shot, wall, one.places);
    if (camera)
      cameras.push_back(*camera.value);
    else
      std::move(camera.problems.begin(), camera.problems.end(), std::back_inserter(problems));
  }
  return cameras;
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

  ShotCheck check(const Shot& shot, const Camera& camera, BareMap& bare) {
    report(shot, "seeing the wall");
    renderer_.render(scene_, camera, shot.people, wall_, buffer_);
    report(shot, "finding gaps");
    ShotCheck done;
    done.shot = shot;
    done.camera = camera;
    done.shares = sharesOf(buffer_);
    done.off = offWall(camera, wall_);
    done.remedy = remedyFor(shot, wall_);
    done.room = roomForPeople(camera, shot, wall_);
    done.found = findGaps(buffer_, scene_.panels, camera, options_.threads);
    done.warnings = framingWarnings(camera, shot, wall_, room_);
    report(shot, "mapping bare board");
    addTo(bare, buffer_, scene_.panels, camera, options_.threads);
    if (options_.on_shot) options_.on_shot(done, buffer_);
    return done;
  }

  void expect(std::size_t shots) { steps_ = 3 * shots; }

 private:
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
  const std::vector<Camera> cameras = camerasOf(planned, wallFrameOf(loaded.plan), problems);
  if (!problems.empty()) return Result<Check>::failure(std::move(problems));

  Check check;
  check.bare = emptyBareMap(scene.panels);
  Checker checker(loaded, scene, options);
  checker.expect(planned.size());
  for (std::size_t k = 0; k < planned.size(); ++k)
    check.shots.push_back(checker.check(planned[k].shot, cameras[k], check.bare));
  if (loaded.plan.shots.empty())
    check.warnings.push_back(
        fmt::format("the plan has no shot; it is checked with {} made for it", check.shots.size()));
  if (options.progress) options.progress(1, "done");
  return Result<Check>::success(std::move(check));
}

}  // namespace petalproof
