// petalproof fill PLAN: places fillers, proves them, and says where each goes.

#include "viewer/command.h"
#include "viewer/complain.h"
#include "viewer/fill_arguments.h"
#include "viewer/output.h"
#include "viewer/picture_names.h"
#include "viewer/progress.h"
#include "viewer/write_uninterrupted.h"

#include "engine/base/file.h"
#include "engine/base/pool.h"
#include "engine/fill/fill.h"
#include "engine/hands/fill_plan.h"
#include "engine/plan/change_fillers.h"
#include "engine/plan/change_paths.h"
#include "engine/plan/read_plan.h"
#include "engine/report/check_json.h"
#include "engine/report/fill_json.h"
#include "engine/report/fill_list.h"
#include "engine/report/fill_map.h"
#include "engine/report/marked_picture.h"
#include "engine/report/picture_files.h"
#include "engine/report/png.h"
#include "engine/scene/scene.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>

namespace petalproof {
namespace fs = std::filesystem;
namespace {

std::vector<Output> outputsOf(const FillArguments& arguments) {
  std::vector<Output> outputs;
  addNewFile(outputs, "--out", arguments.out);
  addReport(outputs, "--json", arguments.json, report::checkJsonSignature());
  addFolder(outputs, "--pictures", arguments.pictures, FolderHolds::pictures);
  return outputs;
}

std::string pictureName(std::size_t number, const std::string& shot, const char* when) {
  return fmt::format("{}-{}-{}.png", number, report::fileNameFrom(shot), when);
}

// Why the pictures can't go to their folder, as far as that is known before they are drawn.
std::optional<std::string> whyNotPictures(std::vector<Output>& outputs, const plan::LoadedPlan& loaded,
                                          const FillArguments& arguments) {
  const Output* pictures = outputOf(outputs, "--pictures");
  if (pictures == nullptr) return std::nullopt;
  const std::vector<std::string> shots = chosenShots(loaded.plan, arguments.shots);
  std::vector<std::string> names{report::wall_map_name};
  for (std::size_t k = 0; k < shots.size(); ++k)
    for (const char* const when : {"before", "filled"}) names.push_back(pictureName(k + 1, shots[k], when));
  return whyNotNames(*pictures, names);
}

// What the wall is before: of the plan as given, without the fillers that were taken away.
plan::LoadedPlan withKeptFillers(const plan::LoadedPlan& given, const std::vector<int>& kept) {
  plan::LoadedPlan before = given;
  before.plan.fillers.clear();
  before.places.fillers.clear();
  for (const int filler : kept) {
    before.plan.fillers.push_back(given.plan.fillers[static_cast<std::size_t>(filler)]);
    before.places.fillers.push_back(given.places.fillers[static_cast<std::size_t>(filler)]);
  }
  return before;
}

// All that is reported on.
struct Filled {
  plan::LoadedPlan before;
  scene::Scene scene_before;
  scene::Scene scene_after;
  fill::FillResult result;
  report::FilledWall wall() const { return {result, before, scene_before, scene_after}; }
};

NamedFile pictureOf(std::size_t number, const check::ShotCheck& shot, const plan::LoadedPlan& loaded,
                    const scene::Scene& scene, const Pool& pool, const char* when, const char* state) {
  const Image image = report::markedPicture(shot, loaded, scene, pool, report::picture_area_px, state);
  return {pictureName(number, shot.shot.name, when), report::encodePng(image, report::picture_dots_per_inch)};
}

std::vector<NamedFile> picturesOf(const Filled& filled, const Pool& pool, Progress& progress) {
  const fill::FillResult& result = filled.result;
  const std::size_t shots = std::min(result.before.shots.size(), result.after.shots.size());
  std::vector<NamedFile> files;
  for (std::size_t i = 0; i < shots; ++i) {
    progress.show(static_cast<double>(i) / static_cast<double>(shots + 1),
                  "drawing " + result.before.shots[i].shot.name);
    files.push_back(pictureOf(i + 1, result.before.shots[i], filled.before, filled.scene_before, pool,
                              "before", "before filling"));
    files.push_back(pictureOf(i + 1, result.after.shots[i], result.filled, filled.scene_after, pool, "filled",
                              "with its fillers"));
  }
  progress.show(static_cast<double>(shots) / static_cast<double>(shots + 1), "drawing the wall map");
  files.push_back({report::wall_map_name,
                   report::encodePng(report::fillMap(filled.wall(), pool), report::picture_dots_per_inch)});
  return files;
}

// The plan's own text with the fillers. It is read again before it is trusted.
Result<std::string> planWithFillers(const std::string& text, const plan::LoadedPlan& given,
                                    const fill::FillResult& result, const std::string& out) {
  std::vector<plan::Filler> added;
  for (const int filler : result.added)
    added.push_back(result.filled.plan.fillers[static_cast<std::size_t>(filler)]);
  const std::string filled = plan::withFillers(text, result.kept, added);
  const auto again = plan::readPlan(filled, out, given.directory);
  if (!again || !(again.value->plan == result.filled.plan))
    return Result<std::string>::failure(
        Place{out}, "the plan with its fillers doesn't read back as the same plan; nothing is written");
  return Result<std::string>::success(
      plan::withPathsFrom(filled, given.directory, fs::path(out).parent_path()));
}

// Everything is drawn before anything is written.
std::optional<std::string> writeFindings(const Filled& filled, const std::string& text,
                                         const plan::LoadedPlan& given, const FillArguments& arguments,
                                         const Pool& pool, std::vector<Output>& outputs, Progress& progress) {
  if (Output* pictures = outputOf(outputs, "--pictures"))
    pictures->files = picturesOf(filled, pool, progress);
  progress.show(1, "writing");
  if (Output* out = outputOf(outputs, "--out")) {
    auto plan = planWithFillers(text, given, filled.result, arguments.out);
    if (!plan) return toString(plan.problems.front());
    out->files = {{"", std::move(*plan.value)}};
    out->copy_of = arguments.plan;
  }
  if (Output* json = outputOf(outputs, "--json")) json->files = {{"", report::fillJson(filled.wall())}};
  return writeUninterrupted(outputs);
}

Result<Filled> filledOf(const plan::LoadedPlan& given, const FillArguments& arguments, const Pool& pool,
                        Progress& progress) {
  fill::FillOptions options = optionsFrom(arguments);
  options.progress = [&progress](double share, const std::string& what) { progress.show(share, what); };
  auto result = hands::fillPlan(given, pool, options);
  if (!result) return Result<Filled>::failure(std::move(result.problems));
  if (given.plan.hands && !result.value->hands)
    result.value->notes.push_back("The fillers are for perfect hands: what [hands] says is left aside.");
  Filled filled{withKeptFillers(given, result.value->kept), {}, {}, std::move(*result.value)};
  auto before = scene::buildScene(filled.before);
  if (!before) return Result<Filled>::failure(std::move(before.problems));
  auto after = scene::buildScene(filled.result.filled);
  if (!after) return Result<Filled>::failure(std::move(after.problems));
  filled.scene_before = std::move(*before.value);
  filled.scene_after = std::move(*after.value);
  auto warnings = std::move(before.warnings);
  return Result<Filled>::success(std::move(filled), std::move(warnings));
}

ExitStatus fillAndReport(const std::string& text, const Result<plan::LoadedPlan>& loaded,
                         const FillArguments& arguments, std::vector<Output>& outputs) {
  const Pool pool(arguments.threads);
  std::optional<std::string> wrong;
  Result<Filled> filled;
  {
    Progress progress(!arguments.quiet);
    filled = filledOf(*loaded.value, arguments, pool, progress);
    if (filled) wrong = writeFindings(*filled.value, text, *loaded.value, arguments, pool, outputs, progress);
  }
  print(filled.problems);
  if (!filled) return ExitStatus::input_wrong;
  if (wrong) return complain(*wrong, ExitStatus::failed);
  if (!arguments.quiet) {
    print(loaded.warnings, "warning: ");
    print(filled.warnings, "warning: ");
    say(report::fillList(filled.value->wall()));
  }
  return filled.value->result.left.empty() ? ExitStatus::done : ExitStatus::found;
}

ExitStatus runFillCommand(const FillArguments& arguments) {
  if (const auto wrong = whyNotOptions(arguments)) return complain(*wrong, ExitStatus::input_wrong);
  std::vector<Output> outputs = outputsOf(arguments);
  if (const auto wrong = whyNotOutputs(outputs)) return complain(*wrong, ExitStatus::input_wrong);
  const fs::path path(arguments.plan);
  const auto text = readFile(path, plan::PlanLimits{}.plan_bytes, arguments.plan);
  print(text.problems);
  if (!text) return ExitStatus::input_wrong;
  const auto loaded = plan::readPlan(*text.value, arguments.plan, path.parent_path());
  print(loaded.problems);
  if (!loaded) return ExitStatus::input_wrong;
  if (const auto wrong = whyNotPictures(outputs, *loaded.value, arguments))
    return complain(*wrong, ExitStatus::input_wrong);
  return fillAndReport(*text.value, loaded, arguments, outputs);
}

}  // namespace

Action setUpFill(CLI::App& app) {
  const auto arguments = std::make_shared<FillArguments>();
  addFillOptions(app, *arguments);
  return [arguments] { return runFillCommand(*arguments); };
}

}  // namespace petalproof
