// petalproof check PLAN: the main job on a command line.

#include "viewer/command.h"
#include "viewer/complain.h"
#include "viewer/output.h"
#include "viewer/picture_names.h"
#include "viewer/progress.h"
#include "viewer/write_uninterrupted.h"

#include "engine/advice/check_advice.h"
#include "engine/base/pool.h"
#include "engine/check/check.h"
#include "engine/plan/read_plan.h"
#include "engine/report/check_json.h"
#include "engine/report/check_table.h"
#include "engine/report/marked_picture.h"
#include "engine/report/picture_files.h"
#include "engine/report/png.h"
#include "engine/scene/scene.h"

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <string>
#include <vector>

namespace petalproof {
namespace {

struct CheckArguments {
  std::string plan;
  std::string json;
  std::string pictures;
  std::string as_seen;
  std::vector<std::string> shots;
  int threads = 0;
  int builds = 0;
  bool strict = false;
  bool advice = false;
  bool all = false;
  bool quiet = false;
};

std::vector<Output> outputsOf(const CheckArguments& arguments) {
  std::vector<Output> outputs;
  addReport(outputs, "--json", arguments.json, report::checkJsonSignature());
  addFolder(outputs, "--pictures", arguments.pictures, FolderHolds::pictures);
  addFolder(outputs, "--as-seen", arguments.as_seen, FolderHolds::pictures_as_seen);
  return outputs;
}

// Why the pictures can't go to their folders, as far as that is known before they are drawn.
std::optional<std::string> whyNotPictures(std::vector<Output>& outputs, const plan::LoadedPlan& loaded,
                                          const CheckArguments& arguments) {
  const std::vector<std::string> shots = chosenShots(loaded.plan, arguments.shots);
  std::vector<std::string> names;
  for (std::size_t k = 0; k < shots.size(); ++k) names.push_back(report::pictureFileName(k + 1, shots[k]));
  if (const Output* as_seen = outputOf(outputs, "--as-seen"))
    if (auto wrong = whyNotNames(*as_seen, names)) return wrong;
  const Output* pictures = outputOf(outputs, "--pictures");
  return pictures ? whyNotNames(*pictures, pictureNames(shots)) : std::nullopt;
}

std::vector<NamedFile> picturesOf(const check::Check& check, const plan::LoadedPlan& loaded,
                                  const scene::Scene& scene, const Pool& pool, Progress& progress) {
  std::vector<NamedFile> files;
  report::PictureFiles wanted;
  wanted.progress = [&](double share, const std::string& what) { progress.show(share, what); };
  wanted.take = [&](std::string name, std::string bytes) {
    files.push_back({std::move(name), std::move(bytes)});
    return true;
  };
  report::drawPictureFiles(check, loaded, scene, pool, wanted);
  return files;
}

struct CheckFindings {
  check::Check check;
  std::optional<advice::Advice> advice;  // where asked for

  const advice::Advice* adviceIfAny() const { return advice ? &*advice : nullptr; }
};

// Everything is drawn before anything is written.
std::optional<std::string> writeFindings(const CheckFindings& found, const plan::LoadedPlan& loaded,
                                         const scene::Scene& scene, const Pool& pool,
                                         std::vector<Output>& outputs, Progress& progress) {
  if (Output* pictures = outputOf(outputs, "--pictures"))
    pictures->files = picturesOf(found.check, loaded, scene, pool, progress);
  progress.show(1, "writing");
  if (Output* json = outputOf(outputs, "--json"))
    json->files = {{"", report::checkJson(found.check, loaded, scene, found.adviceIfAny())}};
  return writeUninterrupted(outputs);
}

bool anyShows(const check::Check& check) {
  return std::any_of(check.shots.begin(), check.shots.end(),
                     [](const check::ShotCheck& shot) { return check::countsOf(shot.readings).show > 0; });
}

// So many dots an inch that a print of that density has the size at which the picture is looked at.
double dotsPerInch(const check::ShotCheck& shot, const Image& image) {
  return image.width_px / (shot.viewing.width_mm / 25.4);
}

Result<CheckFindings> withAdvice(const plan::LoadedPlan& loaded, const scene::Scene& scene, const Pool& pool,
                                 const check::CheckOptions& options) {
  Result<advice::AdvisedCheck> advised = advice::checkWithAdvice(loaded, scene, pool, options);
  if (!advised) return Result<CheckFindings>::failure(std::move(advised.problems));
  return Result<CheckFindings>::success({std::move(advised.value->check), std::move(advised.value->advice)});
}

Result<CheckFindings> withoutAdvice(const plan::LoadedPlan& loaded, const scene::Scene& scene,
                                    const Pool& pool, const check::CheckOptions& options) {
  Result<check::Check> check = check::runCheck(loaded, scene, pool, options);
  if (!check) return Result<CheckFindings>::failure(std::move(check.problems));
  return Result<CheckFindings>::success({std::move(*check.value), std::nullopt});
}

Result<CheckFindings> checkScene(const plan::LoadedPlan& loaded, const scene::Scene& scene,
                                 const CheckArguments& arguments, const Pool& pool,
                                 std::vector<NamedFile>& as_seen, Progress& progress) {
  check::CheckOptions options;
  options.shots = arguments.shots;
  options.progress = [&progress](double share, const std::string& what) { progress.show(share, what); };
  if (!arguments.as_seen.empty())
    options.on_as_seen = [&as_seen](const check::ShotCheck& shot, const Image& image) {
      as_seen.push_back({report::pictureFileName(as_seen.size() + 1, shot.shot.name),
                         report::encodePng(image, dotsPerInch(shot, image))});
    };
  options.builds = arguments.builds;
  return arguments.advice ? withAdvice(loaded, scene, pool, options)
                          : withoutAdvice(loaded, scene, pool, options);
}

ExitStatus checkAndReport(const Result<plan::LoadedPlan>& loaded, const Result<scene::Scene>& scene,
                          const CheckArguments& arguments, std::vector<Output>& outputs) {
  const Pool pool(arguments.threads);
  std::optional<std::string> wrong;
  Result<CheckFindings> found;
  {
    Progress progress(!arguments.quiet);
    std::vector<NamedFile> as_seen;
    found = checkScene(*loaded.value, *scene.value, arguments, pool, as_seen, progress);
    if (Output* output = outputOf(outputs, "--as-seen")) output->files = std::move(as_seen);
    if (found) wrong = writeFindings(*found.value, *loaded.value, *scene.value, pool, outputs, progress);
  }
  print(found.problems);
  if (!found) return ExitStatus::input_wrong;
  if (wrong) return complain(*wrong, ExitStatus::failed);
  if (!arguments.quiet) {
    print(loaded.warnings, "warning: ");
    print(scene.warnings, "warning: ");
    say(report::checkTable(found.value->check, *loaded.value, *scene.value,
                           arguments.all ? report::ListedSpots::all : report::ListedSpots::worst,
                           found.value->adviceIfAny()));
  }
  return arguments.strict && anyShows(found.value->check) ? ExitStatus::found : ExitStatus::done;
}

ExitStatus runCheckCommand(const CheckArguments& arguments) {
  std::vector<Output> outputs = outputsOf(arguments);
  if (const auto wrong = whyNotOutputs(outputs)) return complain(*wrong, ExitStatus::input_wrong);
  const auto loaded = plan::loadPlan(arguments.plan);
  print(loaded.problems);
  if (!loaded) return ExitStatus::input_wrong;
  if (const auto wrong = whyNotPictures(outputs, *loaded.value, arguments))
    return complain(*wrong, ExitStatus::input_wrong);
  const auto scene = scene::buildScene(*loaded.value);
  print(scene.problems);
  if (!scene) return ExitStatus::input_wrong;
  return checkAndReport(loaded, scene, arguments, outputs);
}

}  // namespace

Action setUpCheck(CLI::App& app) {
  const auto arguments = std::make_shared<CheckArguments>();
  app.add_option("PLAN", arguments->plan, "The plan file")->required();
  app.add_option("--json", arguments->json, "Write the findings as JSON to this file");
  app.add_option("--pictures", arguments->pictures,
                 "Write each shot with its gaps marked, and a wall map, here")
      ->type_name("DIR");
  app.add_option("--as-seen", arguments->as_seen,
                 "Write each shot as it will be looked at, blurred and sized, without marks, here")
      ->type_name("DIR");
  app.add_option("--shot", arguments->shots, "Check only this shot (repeatable)")->type_name("NAME");
  app.add_option("--threads", arguments->threads, "With this many threads (default: all cores)")
      ->check(CLI::Range(1, 256));
  app.add_flag("--strict", arguments->strict, "Exit status 1 if any hole shows");
  app.add_flag("--advice", arguments->advice, "Say what would help; each change is tried by computing it");
  app.add_option("--builds", arguments->builds,
                 "Also simulate so many builds by hands as [hands] says, and say in how many each hole shows")
      ->type_name("N")
      ->check(CLI::Range(1, 100'000));
  app.add_flag("--all", arguments->all,
               fmt::format("List every spot, not only the {} worst of each shot", report::most_listed_spots));
  app.add_flag("--quiet", arguments->quiet, "Print problems only");
  return [arguments] { return runCheckCommand(*arguments); };
}

}  // namespace petalproof
