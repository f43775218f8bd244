#include "viewer/window/prints_board.h"

#include "engine/camera/camera.h"
#include "engine/camera/projection.h"
#include "engine/check/shot_checker.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::window {
namespace {

struct Count {
  std::string words;
  bool shows = false;
};

// What a print says under its name; nothing while nothing is known of it as it is.
Count countOf(const app::State& state, int shot) {
  if (!app::isCurrent(state, shot)) return {"...", false};
  const app::ShotResult& result = state.live.shots[static_cast<std::size_t>(shot)];
  if (!result.full) {
    const auto holes = result.check->found.holes.size();
    return {holes == 0 ? "no hole" : fmt::format("{} hole{}", holes, holes == 1 ? "" : "s"), false};
  }
  if (app::seesNoWall(result)) return {"no wall in it", true};
  const check::ReadingCounts counts = check::countsOf(result.check->readings);
  if (counts.show > 0) return {fmt::format("{} show{}", counts.show, counts.show == 1 ? "s" : ""), true};
  if (counts.faint > 0) return {fmt::format("{} faint", counts.faint), false};
  return {"nothing shows", false};
}

// A camera for each shot; an impossible camera has no pixels and is drawn as an empty square.
std::vector<camera::Camera> camerasOf(const plan::Plan& plan, const std::vector<plan::Shot>& shots) {
  std::vector<camera::Camera> cameras;
  for (const plan::Shot& shot : shots) {
    const auto camera = camera::makeCamera(shot, camera::wallFrameOf(plan));
    cameras.push_back(camera ? *camera.value : camera::Camera{});
  }
  return cameras;
}

// Sizes in pixels at 96 dots an inch.
constexpr float border = 5;
constexpr float label = 17;
constexpr float between = 14;
constexpr float before_first = 8;
constexpr float least_sheet = 84;  // room for a shot's name
constexpr float empty_sheet = 74;  // of the sheet that adds a shot

float ratioOf(const camera::Camera& camera) {
  return camera.height_px > 0 ? static_cast<float>(camera.width_px) / static_cast<float>(camera.height_px)
                              : 1;
}

float pictureWidth(const camera::Camera& camera, float height, const Ui& ui) {
  return std::max(height * ratioOf(camera), 40 * ui.scale);
}

float sheetWidth(const camera::Camera& camera, float height, const Ui& ui) {
  return std::max(pictureWidth(camera, height, ui), least_sheet * ui.scale) + 2 * border * ui.scale;
}

float lineWidth(const std::vector<camera::Camera>& cameras, float height, const Ui& ui) {
  float width = (2 * before_first + empty_sheet) * ui.scale;
  for (const camera::Camera& camera : cameras) width += sheetWidth(camera, height, ui) + between * ui.scale;
  return width;
}

// The height of the pictures: a little lower than the board allows where all prints then fit side by side;
// otherwise the full height, and the line scrolls.
float heightThatFits(const std::vector<camera::Camera>& cameras, float most, float room, const Ui& ui) {
  constexpr float least = 0.7F;
  constexpr float step = 0.02F;
  for (float share = 1; share >= least; share -= step)
    if (lineWidth(cameras, most * share, ui) <= room) return most * share;
  return most;
}

void drawPeg(ImDrawList& list, const Ui& ui, ImVec2 at) {
  const float w = 3.5F * ui.scale;
  const float h = 9 * ui.scale;
  list.AddRectFilled({at.x - w, at.y - h / 2}, {at.x + w, at.y + h / 2 + 2}, IM_COL32(201, 164, 110, 255),
                     1.5F);
  list.AddLine({at.x, at.y - h / 2}, {at.x, at.y + h / 2 + 2}, IM_COL32(120, 88, 46, 255));
}

}  // namespace

std::vector<PrintsBoard::Print> PrintsBoard::layOut(const std::vector<camera::Camera>& cameras, const Ui& ui,
                                                    const Area& area) const {
  const float top = area.min.y + 13 * ui.scale;
  const float frame = border * ui.scale;
  const float words = 2 * label * ui.scale;
  const float most = area.height() - 15 * ui.scale - 2 * frame - words;
  const float height = heightThatFits(cameras, most, area.width(), ui);
  std::vector<Print> prints;
  float x = area.min.x + before_first * ui.scale - scroll_;
  for (const camera::Camera& camera : cameras) {
    const float width = pictureWidth(camera, height, ui);
    const float sheet = sheetWidth(camera, height, ui);
    Print print;
    print.sheet = {{x, top}, {x + sheet, top + height + 2 * frame + words}};
    const float left = std::round(x + (sheet - width) / 2);
    print.picture = {{left, top + frame}, {left + std::round(width), top + frame + std::round(height)}};
    prints.push_back(print);
    x += sheet + between * ui.scale;
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
    drawTexture(list, texture, print.picture);
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

// Draws at most a single outdated print in each frame, and none while a mouse button is down: the wall comes
// first.
void PrintsBoard::renew(const std::vector<camera::Camera>& cameras, const std::vector<Print>& prints,
                        WallPictures& pictures, bool may_draw) {
  if (!pictures.hasWall()) return;
  const auto wishFor = [&](std::size_t k) {
    PictureWish wish;
    wish.view =
        gl::viewOf(camera::scaledTo(cameras[k], pixelsOf(prints[k].picture).x), pictures.scene().panels);
    wish.look.people = 1;
    wish.look.signs = false;
    wish.people_of = static_cast<int>(k);
    return wish;
  };
  // Outdated prints come before prints that were only drawn quickly.
  for (const bool old : {true, false})
    for (std::size_t k = 0; k < prints.size(); ++k) {
      if (cameras[k].width_px <= 0) continue;
      const PictureWish wish = wishFor(k);
      const bool is_old = !panes_[k]->isCurrent(pictures, wish);
      if (is_old != old || (!is_old && !panes_[k]->wantsFine())) continue;
      wants_frame_ = true;
      if (!may_draw) return;
      panes_[k]->show(pictures, wish);
      may_draw = false;
    }
}

void PrintsBoard::press(const app::State& state, const plan::Shot& shot, const Print& print, int number,
                        app::Actions& actions) {
  ImGui::SetCursorScreenPos(print.sheet.min);
  ImGui::PushID(number);
  if (ImGui::InvisibleButton("print", {print.sheet.width(), print.sheet.height()}))
    actions.emplace_back(app::ChooseShot{number});
  if (ImGui::IsItemHovered() && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) {
    app::ViewChoices view = state.view;
    view.main = app::MainView::throughLens;
    actions.emplace_back(app::SetView{view});
  }
  if (ImGui::IsItemHovered() && !shot.label.empty()) ImGui::SetTooltip("%s", shot.label.c_str());
  ImGui::PopID();
}

// An empty sheet after the last print, which adds a shot; returns its right edge.
float PrintsBoard::pressForAnother(const app::State& state, const Ui& ui, const Area& area,
                                   const std::vector<Print>& prints, app::Actions& actions) {
  const float left =
      prints.empty() ? area.min.x + before_first * ui.scale : prints.back().sheet.max.x + between * ui.scale;
  const float top = prints.empty() ? area.min.y + 13 * ui.scale : prints.back().sheet.min.y;
  const float bottom = prints.empty() ? area.max.y - 4 * ui.scale : prints.back().sheet.max.y;
  const Area sheet{{left, top}, {left + empty_sheet * ui.scale, bottom}};
  ImGui::SetCursorScreenPos(sheet.min);
  if (ImGui::InvisibleButton("another", {sheet.width(), std::max(sheet.height(), 1.0F)}))
    actions.emplace_back(app::Edit{app::CopyShot{state.shot}, 0});
  const bool hovered = ImGui::IsItemHovered();
  if (hovered) ImGui::SetTooltip("Another shot, like the chosen one to begin with");
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImU32 colour = hovered ? ui.theme.pencil : ui.theme.faint;
  list.AddRect(sheet.min, sheet.max, faded(colour, 0.5F), 3 * ui.scale, 0, 1.2F * ui.scale);
  const ImVec2 m = sheet.middle();
  const float arm = 8 * ui.scale;
  list.AddLine({m.x - arm, m.y}, {m.x + arm, m.y}, colour, 1.6F * ui.scale);
  list.AddLine({m.x, m.y - arm}, {m.x, m.y + arm}, colour, 1.6F * ui.scale);
  return sheet.max.x;
}

app::Actions PrintsBoard::draw(const app::State& state, const Ui& ui, const Area& area,
                               WallPictures& pictures, bool may_draw) {
  app::Actions actions;
  wants_frame_ = false;
  if (!state.hasPlan()) return actions;
  const std::vector<plan::Shot> shots = app::shotsOf(state.plan());
  const std::vector<camera::Camera> cameras = camerasOf(state.plan(), shots);
  while (panes_.size() < shots.size()) panes_.push_back(std::make_unique<PicturePane>());
  panes_.resize(shots.size());
  beginArea("prints", area);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.PushClipRect(area.min, area.max, true);
  const float string_y = area.min.y + 12 * ui.scale;
  list.AddBezierQuadratic({area.min.x, string_y - 4 * ui.scale}, {area.middle().x, string_y + 6 * ui.scale},
                          {area.max.x, string_y - 4 * ui.scale}, ui.theme.faint, 1.2F * ui.scale);
  const std::vector<Print> prints = layOut(cameras, ui, area);
  renew(cameras, prints, pictures, may_draw && !ImGui::IsAnyMouseDown());
  for (std::size_t k = 0; k < prints.size(); ++k) {
    const auto number = static_cast<int>(k);
    drawPrint(state, ui, prints[k], number, shots[k].name);
    press(state, shots[k], prints[k], number, actions);
  }
  const float end = pressForAnother(state, ui, area, prints, actions) + scroll_ - area.min.x;
  list.PopClipRect();
  const ImGuiIO& io = ImGui::GetIO();
  if (ImGui::IsWindowHovered()) scroll_ -= 40 * ui.scale * (io.MouseWheel + io.MouseWheelH);
  scroll_ = std::clamp(scroll_, 0.0F, std::max(0.0F, end + 8 * ui.scale - area.width()));
  ImGui::End();
  return actions;
}

}  // namespace petalproof::window
