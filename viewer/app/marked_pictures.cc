#include "viewer/app/marked_pictures.h"

#include "engine/base/file.h"
#include "engine/report/marked_picture.h"
#include "engine/report/png.h"

#include <fmt/format.h>

#include <utility>

namespace petalproof::app {
namespace fs = std::filesystem;
namespace {

constexpr double dots_per_inch = 200;
using Written = Result<WrittenPictures>;

// Letters, digits, "-" and "_"; anything else that a name may have is a "-".
std::string fileName(const std::string& name) {
  std::string safe;
  for (const char c : name) {
    const bool kept = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
    safe += kept ? c : '-';
  }
  return safe;
}

// "wall pictures", "wall pictures 2": the first that isn't there, made. Nothing where it can't be.
std::optional<fs::path> newFolder(const fs::path& plan_path, std::error_code& error) {
  for (int k = 1;; ++k) {
    const std::string number = k == 1 ? "" : fmt::format(" {}", k);
    const fs::path folder =
        plan_path.parent_path() / fmt::format("{} pictures{}", plan_path.stem().string(), number);
    if (fs::create_directory(folder, error)) return folder;
    if (error) return std::nullopt;
  }
}

std::optional<Problem> write(const fs::path& file, const Image& image) {
  const auto wrong = writeFile(file, encodePng(image, dots_per_inch), Existing::refuse);
  if (!wrong) return std::nullopt;
  return Problem{Place{file.string()}, *wrong};
}

Written writeAll(const Check& check, const LoadedPlan& plan, const Scene& scene, const fs::path& plan_path,
                 int threads, JobReport& report) {
  std::error_code error;
  const auto folder = newFolder(plan_path, error);
  if (!folder)
    return Written::failure(Place{plan_path.parent_path().string()}, "takes no folder: " + error.message());
  WrittenPictures written{*folder, 0, false};
  const std::size_t all = check.shots.size() + 1;
  for (std::size_t k = 0; k < all; ++k) {
    if (report.stopped()) {
      written.stopped = true;
      break;
    }
    const bool map = k == check.shots.size();
    const std::string name =
        map ? "wall-map" : fmt::format("{}-{}", k + 1, fileName(check.shots[k].shot.name));
    report.tell(static_cast<double>(k) / static_cast<double>(all), "drawing " + name);
    const Image image =
        map ? wallMap(check, plan, scene, threads) : markedPicture(check.shots[k], plan, scene, threads);
    if (auto wrong = write(*folder / (name + ".png"), image)) return Written::failure({*wrong});
    ++written.count;
  }
  return Written::success(written);
}

}  // namespace

std::optional<Check> wholeCheck(const State& state) {
  if (!state.live.bare) return std::nullopt;
  Check check;
  check.bare = *state.live.bare;
  for (std::size_t k = 0; k < state.live.shots.size(); ++k) {
    if (!isCurrent(state, static_cast<int>(k)) || !state.live.shots[k].full) return std::nullopt;
    check.shots.push_back(*state.live.shots[k].check);
  }
  return check;
}

std::unique_ptr<PicturesJob> startPictures(Check check, std::shared_ptr<const LoadedPlan> plan,
                                           std::shared_ptr<const Scene> scene, fs::path plan_path,
                                           int threads, std::function<void()> wake) {
  return std::make_unique<PicturesJob>(
      [check = std::move(check), plan = std::move(plan), scene = std::move(scene),
       plan_path = std::move(plan_path),
       threads](JobReport& report) { return writeAll(check, *plan, *scene, plan_path, threads, report); },
      std::move(wake));
}

}  // namespace petalproof::app
