#include "viewer/window/prints_board.h"

#include "engine/camera/camera.h"
#include "engine/check/shot_checker.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::window {
namespace {

ImTextureID textureId(GLuint texture) {
  return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture));  // NOLINT: Dear ImGui's way
}

struct Count {
  std::string words;
  bool shows = false;
};

// What a print says under its name; nothing while nothing is known.
Count countOf(const app::State& state, int shot) {
  const auto at = static_cast<std::size_t>(shot);
  if (at >= state.live.shots.size() || !state.live.shots[at].check) return {"...", false};
  const app::ShotResult& result = state.live.shots[at];
  if (!result.full) {
    const auto gaps = result.check->found.gaps.size();
    return {gaps == 0 ? "no gap" : fmt::format("{} gap{}", gaps, gaps == 1 ? "" : "s"), false};
  }
  const ReadingCounts counts = countsOf(result.check->readings);
  if (counts.show > 0) return {fmt::format("{} show{}", counts.show, counts.show == 1 ? "s" : ""), true};
  if (counts.faint > 0) return {fmt::format("{} faint", counts.faint), false};
  return {"nothing shows", false};
}

// A camera for each shot; one that can't be is a square with nothing in it.
std::vector<Camera> camerasOf(const Plan& plan, const std::vector<Shot>& shots) {
  std::vector<Camera> cameras;
  for (const Shot& shot : shots) {
    const auto camera = makeCamera(shot, wallFrameOf(plan));
    cameras.push_back(camera ? *camera.value : Camera{});
  }
  return cameras;
}

void drawPeg(ImDrawList& list, const Ui& ui, ImVec2 at) {
  const float w = 3.5F * ui.scale;
  const float h = 9 * ui.scale;
  list.AddRectFilled({at.x - w, at.y - h / 2}, {at.x + w, at.y + h / 2 + 2}, IM_COL32(201, 164, 110, 255),
                     1.5F);
  list.AddLine({at.x, at.y - h / 2}, {at.x, at.y + h / 2 + 2}, IM_COL32(120, 88, 46, 255));
}

}  // namespace

std::vector<PrintsBoard::Print> PrintsBoard::layOut(const std::vector<Camera>& cameras, const Ui& ui,
                                                    const Area& area) const {
  const float border = 5 * ui.scale;
  const float label = 17 * ui.scale;
  const float top = area.min.y + 13 * ui.scale;
  const float height = area.height() - 13 * ui.scale - 2 * border - 2 * label - 2 * ui.scale;
  std::vector<Print> prints;
  float x = area.min.x + 8 * ui.scale - scroll_;
  for (const Camera& camera : cameras) {
    const float ratio =
        camera.height_px > 0 ? static_cast<float>(camera.width_px) / static_cast<float>(camera.height_px) : 1;
    const float width = std::max(height * ratio, 40 * ui.scale);
    const float sheet = std::max(width, 84 * ui.scale) + 2 * border;
    Print print;
    print.sheet = {{x, top}, {x + sheet, top + height + 2 * border + 2 * label}};
    const float left = std::round(x + (sheet - width) / 2);
    print.picture = {{left, top + border}, {left + std::round(width), top + border + std::round(height)}};
    prints.push_back(print);
    x += sheet + 14 * ui.scale;
  }
  return prints;
}

void PrintsBoard::drawPrint(const app::State& state, const Ui& ui, const Print& print, int shot,
                            const std::string& name) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const bool chosen = shot == state.shot;
  drawSheet(list, ui, print.sheet);
  const GLuint texture = panes_[static_cast<std::size_t>(shot)]->texture();
  if (texture != 0) {
    list.AddImage(textureId(texture), print.picture.min, print.picture.max, {0, 1}, {1, 0});
  } else {
    list.AddRectFilled(print.picture.min, print.picture.max, faded(ui.theme.line, 0.5F));
  }
  const float middle = (print.sheet.min.x + print.sheet.max.x) / 2;
  const float room = print.sheet.width() - 6 * ui.scale;
  const float y = print.picture.max.y + 3 * ui.scale;
  drawText(list, ui.fonts.small, ui.theme.ink, {middle, y}, shortened(ui.fonts.small, name, room), 0.5F);
  const Count count = countOf(state, shot);
  drawText(list, ui.fonts.small, count.shows ? ui.theme.warm : ui.theme.faint, {middle, y + 16 * ui.scale},
           count.words, 0.5F);
  if (chosen) list.AddRect(print.sheet.min, print.sheet.max, ui.theme.pencil, 2 * ui.scale, 0, 2 * ui.scale);
  drawPeg(list, ui, {middle, print.sheet.min.y});
}

app::Actions PrintsBoard::draw(const app::State& state, const Ui& ui, const Area& area,
                               WallPictures& pictures, bool may_draw) {
  app::Actions actions;
  wants_frame_ = false;
  if (!state.hasPlan()) return actions;
  const std::vector<Shot> shots = app::shotsOf(state.plan());
  const std::vector<Camera> cameras = camerasOf(state.plan(), shots);
  while (panes_.size() < shots.size()) panes_.push_back(std::make_unique<PicturePane>());
  panes_.resize(shots.size());
  beginArea("prints", area);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.PushClipRect(area.min, area.max, true);
  const float string_y = area.min.y + 12 * ui.scale;
  list.AddBezierQuadratic({area.min.x, string_y - 4 * ui.scale}, {area.middle().x, string_y + 6 * ui.scale},
                          {area.max.x, string_y - 4 * ui.scale}, ui.theme.faint, 1.2F * ui.scale);
  const std::vector<Print> prints = layOut(cameras, ui, area);
  const float dense = std::max(ImGui::GetIO().DisplayFramebufferScale.x, 1.0F);
  const bool hand_rests = may_draw && !ImGui::IsAnyMouseDown();
  bool drew = false;
  for (std::size_t k = 0; k < prints.size(); ++k) {
    if (cameras[k].width_px > 0 && pictures.hasWall()) {
      PictureWish wish;
      wish.view =
          gl::viewOf(scaledTo(cameras[k], std::max(1, static_cast<int>(prints[k].picture.width() * dense))),
                     pictures.scene().panels);
      wish.look.people = 1;
      wish.look.signs = false;
      wish.people_of = static_cast<int>(k);
      // One a frame, and only while the hand rests: the wall itself comes first.
      const bool old = !panes_[k]->isCurrent(pictures, wish) || panes_[k]->wantsFine();
      if (old && !drew && hand_rests) {
        panes_[k]->show(pictures, wish);
        drew = true;
      } else if (old) {
        wants_frame_ = true;
      }
    }
    drawPrint(state, ui, prints[k], static_cast<int>(k), shots[k].name);
    ImGui::SetCursorScreenPos(prints[k].sheet.min);
    ImGui::PushID(static_cast<int>(k));
    if (ImGui::InvisibleButton("print", {prints[k].sheet.width(), prints[k].sheet.height()}))
      actions.emplace_back(app::ChooseShot{static_cast<int>(k)});
    if (ImGui::IsItemHovered() && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) {
      app::ViewChoices view = state.view;
      view.main = app::MainView::throughLens;
      actions.emplace_back(app::SetView{view});
    }
    if (ImGui::IsItemHovered() && !shots[k].label.empty()) ImGui::SetTooltip("%s", shots[k].label.c_str());
    ImGui::PopID();
  }
  list.PopClipRect();
  const float end = prints.empty() ? 0 : prints.back().sheet.max.x + scroll_ - area.min.x + 8 * ui.scale;
  if (ImGui::IsWindowHovered())
    scroll_ -= 40 * ui.scale * (ImGui::GetIO().MouseWheel + ImGui::GetIO().MouseWheelH);
  scroll_ = std::clamp(scroll_, 0.0F, std::max(0.0F, end - area.width()));
  ImGui::End();
  return actions;
}

}  // namespace petalproof::window
