#include "viewer/app/marked_pictures.h"

#include "engine/base/file.h"
#include "engine/base/stopping.h"
#include "engine/report/picture_files.h"

#include <fmt/format.h>

#include <utility>

namespace petalproof::app {
namespace fs = std::filesystem;
namespace {

using Written = Result<WrittenPictures>;

// Makes the first of the folders "wall pictures", "wall pictures 2" that doesn't exist; nothing where that
// fails.
std::optional<fs::path> newFolder(const fs::path& plan_path, std::error_code& error) {
  for (int k = 1;; ++k) {
    const std::string number = k == 1 ? "" : fmt::format(" {}", k);
    const fs::path folder =
        plan_path.parent_path() / fmt::format("{} pictures{}", plan_path.stem().string(), number);
    if (fs::create_directory(folder, error)) return folder;
    if (error) return std::nullopt;
  }
}

Written writeAll(const check::Check& check, const plan::LoadedPlan& plan, const scene::Scene& scene,
                 const fs::path& plan_path, const Pool& pool, JobReport& report) {
  std::error_code error;
  const auto folder = newFolder(plan_path, error);
  if (!folder)
    return Written::failure(Place{plan_path.parent_path().string()}, "takes no folder: " + error.message());
  WrittenPictures written{*folder, 0, false};
  std::optional<Problem> problem;
  report::PictureFiles files;
  files.stop = report.stopToken();
  files.progress = [&](double share, const std::string& what) { report.tell(share, what); };
  files.take = [&](const std::string& name, const std::string& bytes) {
    const fs::path file = *folder / name;
    if (const auto failure = writeFile(file, bytes, Existing::refuse))
      problem = Problem{Place{file.string()}, *failure};
    else
      ++written.count;
    return !problem;
  };
  try {
    report::drawPictureFiles(check, plan, scene, pool, files);
  } catch (const Stopped&) {
    written.stopped = true;
  }
  return problem ? Written::failure({*problem}) : Written::success(written);
}

}  // namespace

std::optional<check::Check> wholeCheck(const State& state) {
  if (!state.live.bare) return std::nullopt;
  check::Check check;
  check.bare = *state.live.bare;
  for (std::size_t k = 0; k < state.live.shots.size(); ++k) {
    if (!isCurrent(state, static_cast<int>(k)) || !state.live.shots[k].full) return std::nullopt;
    check.shots.push_back(*state.live.shots[k].check);
  }
  return check;
}

std::unique_ptr<PicturesJob> startPictures(check::Check check, std::shared_ptr<const plan::LoadedPlan> plan,
                                           std::shared_ptr<const scene::Scene> scene, fs::path plan_path,
                                           const Pool& pool, std::function<void()> wake) {
  return std::make_unique<PicturesJob>(
      [check = std::move(check), plan = std::move(plan), scene = std::move(scene),
       plan_path = std::move(plan_path),
       &pool](JobReport& report) { return writeAll(check, *plan, *scene, plan_path, pool, report); },
      std::move(wake));
}

}  // namespace petalproof::app
