#include "engine/check/check.h"

#include "engine/base/nearest_name.h"
#include "engine/plan/default_shots.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <utility>

namespace petalproof::check {
namespace {

struct PlannedShot {
  plan::Shot shot;
  camera::ShotPlaces places;
};

Place at(const std::vector<Place>& places, std::size_t k, const std::string& file) {
  return k < places.size() ? places[k] : Place{file, 0, 0};
}

std::vector<PlannedShot> shotsOf(const plan::LoadedPlan& loaded) {
  const bool has_shots = !loaded.plan.shots.empty();
  const std::vector<plan::Shot> shots = has_shots ? loaded.plan.shots : plan::defaultShots(loaded.plan);
  const plan::PlanPlaces& places = loaded.places;
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

struct Progress {
  const CheckOptions& options;
  std::size_t steps;
  std::size_t done = 0;

  void report(const std::string& shot, const char* doing) {
    if (options.progress)
      options.progress(std::min(1.0, static_cast<double>(done) / static_cast<double>(steps)),
                       fmt::format("{}: {}", shot, doing));
    ++done;
  }
};

void addOnce(std::vector<Problem>& problems, std::vector<Problem> more) {
  for (Problem& problem : more)
    if (std::find(problems.begin(), problems.end(), problem) == problems.end())
      problems.push_back(std::move(problem));
}

// What is wrong with the cameras, before any work is done.
void addCameraProblems(const std::vector<PlannedShot>& planned, const camera::WallFrame& wall,
                       std::vector<Problem>& problems) {
  for (const PlannedShot& one : planned)
    for (const plan::Shot& end : camera::zoomEnds(one.shot))
      addOnce(problems, camera::makeCamera(end, wall, one.places).problems);
}

// Each end of a zoom is seen and read, each shot mapped.
std::size_t stepsOf(const std::vector<PlannedShot>& planned) {
  std::size_t steps = 0;
  for (const PlannedShot& one : planned) steps += 3 * camera::zoomEnds(one.shot).size() + 1;
  return steps;
}

void checkShots(const std::vector<PlannedShot>& planned, const plan::LoadedPlan& loaded,
                const scene::Scene& scene, const CheckOptions& options, ShotChecker& checker, Check& check) {
  checker.goOnWith(loaded, scene, options.lighting);
  Progress progress{options, stepsOf(planned)};
  for (const PlannedShot& one : planned) {
    const auto step = [&](const char* doing) { progress.report(one.shot.name, doing); };
    Result<ShotCheck> done = checker.check(one.shot, one.places, scene.colours, step, options.stop);
    step("mapping bare board");
    gaps::addTo(check.bare, checker.seen(), scene.panels, done.value->camera, checker.pool(), options.stop);
    if (options.on_shot) options.on_shot(*done.value, checker.seen());
    if (options.on_as_seen) options.on_as_seen(*done.value, checker.asSeen(*done.value, options.stop));
    check.shots.push_back(std::move(*done.value));
  }
}

BuildsCheck buildsOf(const plan::LoadedPlan& loaded, const scene::Scene& scene, const Check& check,
                     const Pool& pool, const CheckOptions& options) {
  BuildOptions build;
  build.builds = options.builds;
  build.seed = loaded.plan.seed;
  build.stop = options.stop;
  if (options.progress) build.progress = [&](double share) { options.progress(share, "simulating builds"); };
  return checkBuilds(loaded.plan, scene, check.shots,
                     scene::handErrorsOf(*loaded.plan.hands, loaded.plan.units), pool, build);
}

void addHandsProblem(const plan::LoadedPlan& loaded, const CheckOptions& options,
                     std::vector<Problem>& problems) {
  if (options.builds <= 0 || loaded.plan.hands) return;
  Problem problem;
  problem.place.file = loaded.file;
  problem.message =
      "there is no section [hands], without which every build is as planned; [hands] with nothing below it "
      "means usual hands";
  problems.push_back(std::move(problem));
}

}  // namespace

Result<Check> runCheck(const plan::LoadedPlan& loaded, const scene::Scene& scene, const Pool& pool,
                       const CheckOptions& options) {
  ShotChecker checker(loaded, scene, pool, options.readings);
  return runCheck(loaded, scene, options, checker);
}

Result<Check> runCheck(const plan::LoadedPlan& loaded, const scene::Scene& scene, const CheckOptions& options,
                       ShotChecker& checker) {
  const std::vector<PlannedShot> all = shotsOf(loaded);
  std::vector<Problem> problems = unknownNames(all, options.shots, loaded.file);
  const std::vector<PlannedShot> planned = selected(all, options.shots);
  addHandsProblem(loaded, options, problems);
  addCameraProblems(planned, camera::wallFrameOf(loaded.plan), problems);
  if (!problems.empty()) return Result<Check>::failure(std::move(problems));

  Check check;
  check.bare = gaps::emptyBareMap(scene.panels);
  checkShots(planned, loaded, scene, options, checker, check);
  if (options.builds > 0 && options.readings)
    check.builds = buildsOf(loaded, scene, check, checker.pool(), options);
  if (loaded.plan.shots.empty())
    check.warnings.push_back(
        fmt::format("the plan has no shot; it is checked with {} made for it", check.shots.size()));
  if (options.progress) options.progress(1, "done");
  return Result<Check>::success(std::move(check));
}

}  // namespace petalproof::check
