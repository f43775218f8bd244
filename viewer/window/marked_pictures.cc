#include "viewer/window/marked_pictures.h"

#include "viewer/output.h"

#include "engine/report/marked_picture.h"
#include "engine/report/png.h"

#include <fmt/format.h>

#include <chrono>
#include <utility>
#include <vector>

namespace petalproof::window {
namespace fs = std::filesystem;
namespace {

constexpr double dots_per_inch = 200;

// Between two pictures it is asked whether they are still wanted.
template <class Progress>
std::optional<std::string> writePictures(const Check& check, const LoadedPlan& plan, const Scene& scene,
                                         const fs::path& folder, Progress& progress) {
  std::vector<NamedFile> files;
  for (const ShotCheck& shot : check.shots) {
    if (progress.stopped) return "stopped";
    const std::string name = fmt::format("{}-{}.png", files.size() + 1, fileNameFrom(shot.shot.name));
    files.push_back({name, encodePng(markedPicture(shot, plan, scene), dots_per_inch)});
    ++progress.done;
  }
  if (progress.stopped) return "stopped";
  files.push_back({"wall-map.png", encodePng(wallMap(check, plan, scene), dots_per_inch)});
  return writeFolder(folder, files);
}

fs::path folderFor(const fs::path& plan) {
  return plan.parent_path() / ((plan.empty() ? std::string("wall") : plan.stem().string()) + "-pictures");
}

}  // namespace

std::optional<Check> wholeCheck(const app::State& state) {
  if (!state.hasPlan() || !state.live.bare || !state.live.scene || state.live.shots.empty())
    return std::nullopt;
  Check check;
  for (std::size_t k = 0; k < state.live.shots.size(); ++k) {
    const app::ShotResult& result = state.live.shots[k];
    if (!result.full || !result.check || !app::isCurrent(state, static_cast<int>(k))) return std::nullopt;
    check.shots.push_back(*result.check);
  }
  check.bare = *state.live.bare;
  return check;
}

MarkedPictures::~MarkedPictures() {
  if (work_) work_->progress->stopped = true;
}

void MarkedPictures::draw(const app::State& state, const Ui& ui) {
  if (work_) return follow(ui);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const bool known = state.live.progress >= 1 && state.live.bare != nullptr;
  ImGui::PushStyleColor(ImGuiCol_Button, ui.theme.paper);
  ImGui::BeginDisabled(!known);
  if (ImGui::Button("Marked pictures"))
    if (auto check = wholeCheck(state)) begin(state, std::move(*check));
  ImGui::EndDisabled();
  ImGui::PopStyleColor();
  if (ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled))
    ImGui::SetTooltip(
        "%s", known ? "Every shot with its gaps marked, and the map of the wall, in a folder beside the plan"
                    : "As soon as every shot is checked in full");
  if (said_.empty()) return;
  drawLabel(*ImGui::GetWindowDrawList(), ui, ui.fonts.small, {corner.x, corner.y - 28 * ui.scale}, said_, 0,
            1);
}

void MarkedPictures::begin(const app::State& state, Check check) {
  const fs::path folder = folderFor(state.path);
  if (const auto why = whyNotFolder(folder)) {
    said_ = *why;
    return;
  }
  said_.clear();
  Work work;
  work.progress = std::make_shared<Progress>();
  work.all = static_cast<int>(check.shots.size()) + 1;
  work.folder = folder;
  work.wrong = std::async(std::launch::async, [check = std::move(check), plan = state.now.plan,
                                               scene = state.live.scene, folder, progress = work.progress] {
    return writePictures(check, *plan, *scene, folder, *progress);
  });
  work_ = std::move(work);
}

void MarkedPictures::follow(const Ui& ui) {
  ImGui::ProgressBar(static_cast<float>(work_->progress->done) / static_cast<float>(work_->all),
                     {150 * ui.scale, 0});
  ImGui::SameLine();
  if (ImGui::Button("Stop pictures")) work_->progress->stopped = true;
  if (work_->wrong.wait_for(std::chrono::seconds(0)) != std::future_status::ready) return;
  const auto wrong = work_->wrong.get();
  said_ = wrong ? fmt::format("No pictures: {}", *wrong) : fmt::format("Written: {}", work_->folder.string());
  work_.reset();
}

}  // namespace petalproof::window
