#include "viewer/window/client_picture.h"

#include "viewer/window/glfw_window.h"
#include "viewer/window/lens_view.h"
#include "viewer/window/places.h"

#include "engine/base/file.h"
#include "engine/report/png.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <system_error>
#include <utility>

namespace petalproof::window {
namespace fs = std::filesystem;
namespace {

constexpr double print_dots_per_inch = 300;
constexpr int shortest_px = 640;    // of the longer side: smaller pictures show no blooms
constexpr int most_numbers = 1000;  // of files of the same name that are tried

// The text with '-' for everything but letters, digits and '_': a part of a file's name.
std::string plain(std::string text) {
  for (char& letter : text) {
    const auto byte = static_cast<unsigned char>(letter);
    if (std::isalnum(byte) == 0 && letter != '_' && byte < 0x80) letter = '-';
  }
  return text;
}

}  // namespace

fs::path pictureFile(const fs::path& plan, const std::string& shot, int longest_px) {
  const std::string stem = plan.empty() ? std::string("wall") : plan.stem().string();
  const std::string name = fmt::format("{}-{}-{}", stem, plain(shot), longest_px);
  std::error_code none;
  fs::path file = plan.parent_path() / (name + ".png");
  for (int k = 2; fs::exists(file, none) && k < most_numbers; ++k)
    file = plan.parent_path() / fmt::format("{}-{}.png", name, k);
  return file;
}

void ClientPicture::draw(const app::State& state, const Ui& ui, const Area& area,
                         const camera::Camera& camera, WallPictures& pictures) {
  const float room = 8 * ui.scale;
  ImGui::SetCursorScreenPos({area.min.x + room, area.max.y - ImGui::GetFrameHeight() - room});
  if (writing_)
    if (auto said = writing_->take()) {
      said_ = std::move(*said);
      writing_.reset();
    }
  if (work_) return drawNextTile(ui, pictures);
  ImGui::PushStyleColor(ImGuiCol_Button, ui.theme.paper);
  if (ImGui::Button("Picture for a client") && !writing_) ImGui::OpenPopup("client picture");
  ImGui::PopStyleColor();
  if (!said_.empty())
    drawLabel(*ImGui::GetWindowDrawList(), ui, ui.fonts.small,
              {area.min.x + room, area.max.y - ImGui::GetFrameHeight() - 2 * room},
              shortened(ui.fonts.small, said_, area.width() - 2 * room), 0, 1);
  if (!ImGui::BeginPopup("client picture")) return;
  ask(state, ui, camera, pictures);
  ImGui::EndPopup();
}

void ClientPicture::ask(const app::State& state, const Ui& ui, const camera::Camera& camera,
                        const WallPictures& pictures) {
  const std::vector<plan::Shot> shots = app::shotsOf(state.plan());
  const std::string& name = shots[static_cast<std::size_t>(state.shot)].name;
  ImGui::TextUnformatted("What the lens sees, without marks, as a PNG.");
  ImGui::SetNextItemWidth(170 * ui.scale);
  ImGui::InputInt("pixels along the longer side", &longest_px_, 256, 1024);
  longest_px_ = std::clamp(longest_px_, shortest_px, gl::longest_picture_px);
  const fs::path beside = state.path.empty() ? homeFolder() / "wall.toml" : state.path;
  const fs::path to = pictureFile(beside, name, longest_px_);
  ImGui::TextDisabled("%s", to.string().c_str());
  if (ImGui::Button("Draw it")) {
    const PictureWish wish = deliveredPicture(state, pictures.scene().panels, camera, longest_px_);
    work_.emplace(
        Work{gl::TiledPicture(wish.view, wish.look, wish.spread), to, wish.people_of, print_dots_per_inch});
    said_.clear();
    ImGui::CloseCurrentPopup();
  }
}

void ClientPicture::drawNextTile(const Ui& ui, WallPictures& pictures) {
  const bool has_more_tiles = pictures.step(work_->picture, work_->people_of);
  ImGui::ProgressBar(static_cast<float>(work_->picture.share()), {180 * ui.scale, 0});
  ImGui::SameLine();
  if (ImGui::Button("Stop")) {
    work_.reset();
    return;
  }
  if (has_more_tiles) return;
  write(std::move(*work_));
  work_.reset();
}

// Encodes and writes the picture in another thread: a large picture takes seconds.
void ClientPicture::write(Work work) {
  const auto picture = std::make_shared<const Image>(work.picture.take());
  writing_ = std::make_unique<app::Job<std::string>>(
      [picture, to = work.to, dots = work.dots_per_inch](app::JobReport&) {
        const auto failure = writeFile(to, report::encodePng(*picture, dots), Existing::refuse);
        return failure ? fmt::format("{} wasn't written: {}", to.filename().string(), *failure)
                       : fmt::format("Written: {}", to.string());
      },
      &GlfwWindow::wake);
  said_ = fmt::format("Writing {} ...", work.to.filename().string());
}

}  // namespace petalproof::window
