#include "viewer/window/wall_drawing.h"

#include "viewer/window/tape.h"

#include "engine/plan/plan.h"

#include <GLFW/glfw3.h>

#include <glm/common.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::window {
namespace {

constexpr float tape_px = 26;    // the height of the tape above the wall
constexpr float margin_px = 22;  // between tape and wall, for the codes
// Limits of the zoom: a small petal fills the screen; the largest wall is a stamp.
constexpr double most_px_per_mm = 12;
constexpr double least_px_per_mm = 0.02;
constexpr double close_px_per_mm = 1.6;  // at a chosen gap
constexpr double key_zoom = 1.3;         // a press of Page up
constexpr double wheel_zoom = 1.15;      // a notch of the wheel

// Zooms around the mouse: the place under it stays there.
DrawingScale zoomed(const DrawingScale& scale, ImVec2 mouse, double factor, double least) {
  DrawingScale to = scale;
  to.px_per_mm = std::clamp(scale.px_per_mm * factor, least, most_px_per_mm);
  const glm::dvec2 under = scale.boardOf(mouse);
  to.middle_mm += under - to.boardOf(mouse);
  return to;
}

}  // namespace

ImVec2 DrawingScale::screenOf(glm::dvec2 board_mm) const {
  const ImVec2 middle = area.middle();
  return {middle.x + static_cast<float>((board_mm.x - middle_mm.x) * px_per_mm),
          middle.y - static_cast<float>((board_mm.y - middle_mm.y) * px_per_mm)};
}

glm::dvec2 DrawingScale::boardOf(ImVec2 screen) const {
  const ImVec2 middle = area.middle();
  return {middle_mm.x + (screen.x - middle.x) / px_per_mm, middle_mm.y - (screen.y - middle.y) / px_per_mm};
}

DrawingScale fittingScale(const Area& area, const scene::PanelGrid& panels, float margin,
                          glm::dvec2 overhang_mm) {
  const auto scaleFor = [&](double room, double wall_mm, double over_mm) {
    const double gap = 0.2 * margin;
    return std::min(std::max(room - 2.0 * margin, 10.0) / wall_mm,
                    std::max(room - 2.0 * gap, 10.0) / (wall_mm + 2 * over_mm));
  };
  return {area,
          {panels.width_mm() / 2, panels.height_mm() / 2},
          std::min(scaleFor(area.width(), panels.width_mm(), overhang_mm.x),
                   scaleFor(area.height(), panels.height_mm(), overhang_mm.y))};
}

glm::dvec2 overhangOf(const scene::Scene& scene) {
  constexpr double step_mm = 25;
  const glm::dvec2 wall(scene.panels.width_mm(), scene.panels.height_mm());
  glm::dvec2 over(0);
  for (const scene::BloomInstance& bloom : scene.blooms) {
    const glm::dvec2 reach = glm::max(-bloom.at_mm, bloom.at_mm - wall) + bloom.diameter_mm / 2;
    over = glm::max(over, reach);
  }
  return glm::ceil(over / step_mm) * step_mm;
}

gl::View headOn(const DrawingScale& scale, glm::ivec2 size_px) {
  const Area& area = scale.area;
  return gl::headOnView({scale.boardOf({area.min.x, area.max.y}), scale.boardOf({area.max.x, area.min.y})},
                        size_px.x, size_px.y);
}

DrawingScale wholeWall(const Area& main, const scene::PanelGrid& panels, glm::dvec2 overhang_mm, Units units,
                       float ui_scale) {
  const Area inner{
      {main.min.x + sideTapeWidth(panels.height_mm(), units) * ui_scale, main.min.y + tape_px * ui_scale},
      main.max};
  return fittingScale(inner, panels, margin_px * ui_scale, overhang_mm);
}

void WallDrawing::lookAt(glm::dvec2 board_mm) {
  free_ = true;
  from_ = to_ = scale_;
  to_.middle_mm = board_mm;
  to_.px_per_mm = std::max(scale_.px_per_mm, close_px_per_mm);
  flight_.begin(ImGui::GetTime());
}

void WallDrawing::fly() {
  if (!flight_.isOn()) return;
  const double share = flight_.share(ImGui::GetTime());
  scale_.middle_mm = from_.middle_mm + share * (to_.middle_mm - from_.middle_mm);
  scale_.px_per_mm = from_.px_per_mm * std::pow(to_.px_per_mm / from_.px_per_mm, share);
}

app::Actions WallDrawing::draw(const app::State& state, const Ui& ui, const Area& area,
                               WallPictures& pictures) {
  if (!pictures.hasWall()) return {};
  const scene::PanelGrid& panels = pictures.scene().panels;
  // Kept while a button is down, so that the drawing doesn't move under the mouse.
  if (!ImGui::IsAnyMouseDown()) overhang_mm_ = overhangOf(pictures.scene());
  const DrawingScale whole = wholeWall(area, panels, overhang_mm_, state.plan().units, ui.scale);
  const Area& inner = whole.area;
  fly();
  if (!free_) scale_ = whole;
  scale_.area = inner;
  beginArea("wall drawing", area);
  drawPicture(state, ui, pictures);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.PushClipRect(inner.min, inner.max, true);
  hand_.drawRings(state, ui, scale_, pictures.scene());
  panel_hand_.draw(state, ui, scale_, panels);
  drawMargin(ui, panels);
  if (state.view.heat) drawHeatKey(state, ui);
  list.PopClipRect();
  if (state.view.tape) drawTapes(state, ui, panels);
  ImGui::SetCursorScreenPos(inner.min);
  ImGui::InvisibleButton("hand", {inner.width(), inner.height()},
                         ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                             ImGuiButtonFlags_MouseButtonMiddle);
  const bool hovered = ImGui::IsItemHovered();
  const gl::View view = headOn(scale_, {static_cast<int>(inner.width()), static_cast<int>(inner.height())});
  app::Actions actions = panel_hand_.work(scale_, panels, hovered && !hand_.holds());
  const bool for_panels = ImGui::GetIO().KeyAlt || panel_hand_.holds();
  const app::Actions edits = hand_.work(state, ui, scale_, view, pictures, hovered && !for_panels);
  actions.insert(actions.end(), edits.begin(), edits.end());
  moveByHand(ui, hovered && !for_panels);
  zoomByKeys(ui);
  ImGui::End();
  return actions;
}

void WallDrawing::drawPicture(const app::State& state, const Ui& ui, WallPictures& pictures) {
  const glm::ivec2 size = pixelsOf(scale_.area);
  PictureWish wish;
  wish.view = headOn(scale_, size);
  wish.look = lookOf(state, mark_px * ui.scale * pixelDensity());
  wish.look.room = false;
  wish.look.people = 0;
  wish.look.paper = ui.theme.paper_colour;
  drawTexture(*ImGui::GetWindowDrawList(),
              pane_.show(pictures, wish, flight_.isOn() || ImGui::IsAnyMouseDown()), scale_.area);
}

void WallDrawing::drawTapes(const app::State& state, const Ui& ui, const scene::PanelGrid& panels) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float tape = tape_px * ui.scale;
  const Units units = state.plan().units;
  const float side = sideTapeWidth(panels.height_mm(), units) * ui.scale;
  const Area& inner = scale_.area;
  const ImVec2 corner = scale_.screenOf({0, panels.height_mm()});
  const Area above{{inner.min.x, inner.min.y - tape}, {inner.max.x, inner.min.y}};
  const Area beside{{inner.min.x - side, inner.min.y}, {inner.min.x, inner.max.y}};
  list.AddRectFilled({inner.min.x - side, inner.min.y - tape}, {inner.max.x, inner.min.y}, ui.theme.table);
  list.AddRectFilled({inner.min.x - side, inner.min.y - tape}, {inner.min.x, inner.max.y}, ui.theme.table);
  drawTape(list, ui, {above, true, corner.x, scale_.px_per_mm, panels.width_mm(), units});
  drawTape(list, ui, {beside, false, corner.y, scale_.px_per_mm, panels.height_mm(), units});
}

// The key to the heat layer's colours.
void WallDrawing::drawHeatKey(const app::State& state, const Ui& ui) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const auto shots = static_cast<int>(state.live.shots.size());
  const float side = 13 * ui.scale;
  ImVec2 at(scale_.area.min.x + 10 * ui.scale, scale_.area.max.y - 10 * ui.scale - side);
  if (!state.live.bare) {
    drawLabel(list, ui, ui.fonts.small, at, "not known yet", 0, 0);
    return;
  }
  const Area words = drawLabel(list, ui, ui.fonts.small, at, "seen bare in so many shots:", 0, 0);
  at.x = words.max.x + 6 * ui.scale;
  for (int k = 1; k <= std::min(shots, 9); ++k) {
    const Colour c = gl::heatColour(k, shots);
    list.AddRectFilled(at, {at.x + 1.6F * side, at.y + side}, IM_COL32(c.red, c.green, c.blue, 255),
                       2 * ui.scale);
    drawText(list, ui.fonts.small, k < 2 ? IM_COL32(40, 20, 10, 255) : IM_COL32_WHITE,
             {at.x + 0.8F * side, at.y + side / 2}, std::to_string(k), 0.5F, 0.5F);
    at.x += 1.6F * side + 3 * ui.scale;
  }
}

// Letters above the columns, numbers beside the rows, on the paper around the wall.
void WallDrawing::drawMargin(const Ui& ui, const scene::PanelGrid& panels) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float away = 11 * ui.scale;
  const ImVec2 corner = scale_.screenOf({0, panels.height_mm()});
  const float top = std::max(corner.y - away, scale_.area.min.y + away);
  const float left = std::max(corner.x - away, scale_.area.min.x + away);
  // Where blooms hang over the edge, codes are drawn on strips of paper.
  const auto hanging = static_cast<float>(std::max(overhang_mm_.x, overhang_mm_.y) * scale_.px_per_mm);
  const bool over = hanging > 0.4F * away || corner.y - away < scale_.area.min.y + away ||
                    corner.x - away < scale_.area.min.x + away;
  const auto code = [&](ImVec2 at, const std::string& text) {
    if (over) drawLabel(list, ui, ui.fonts.small, at, text);
    if (!over) drawText(list, ui.fonts.small, ui.theme.faint, at, text, 0.5F, 0.5F);
  };
  // Small panels get only every second or third code, so that codes don't touch.
  const auto stepFor = [&](float room, double panel_mm) {
    return std::max(1, static_cast<int>(std::ceil(room * ui.scale / (panel_mm * scale_.px_per_mm))));
  };
  const int column_step =
      stepFor(panels.columns > 26 ? 20.0F : 12.0F, panels.panel_width_mm + panels.seam_mm);
  const int row_step = stepFor(12, panels.panel_height_mm + panels.seam_mm);
  for (int column = 0; column < panels.columns; column += column_step) {
    const double middle = panels.left_mm(column) + panels.panel_width_mm / 2;
    code({scale_.screenOf({middle, 0}).x, top}, plan::columnLetters(column));
  }
  for (int row = 0; row < panels.rows; row += row_step) {
    const double middle = panels.top_mm(row) - panels.panel_height_mm / 2;
    code({left, scale_.screenOf({0, middle}).y}, std::to_string(row + 1));
  }
}

// Page up and Page down zoom around the middle; Home shows the whole wall.
void WallDrawing::zoomByKeys(const Ui& ui) {
  if (ImGui::GetIO().NavActive) return;
  if (ui.wasPressed(GLFW_KEY_HOME)) fit();
  const int steps = (ui.wasPressed(GLFW_KEY_PAGE_UP) ? 1 : 0) - (ui.wasPressed(GLFW_KEY_PAGE_DOWN) ? 1 : 0);
  if (steps == 0) return;
  flight_.end();
  scale_ = zoomed(scale_, scale_.area.middle(), std::pow(key_zoom, steps), least_px_per_mm * ui.scale);
  free_ = true;
}

void WallDrawing::moveByHand(const Ui& ui, bool hovered) {
  const ImGuiIO& io = ImGui::GetIO();
  if (hovered && io.MouseWheel != 0 && !hand_.overChosen()) {
    flight_.end();
    scale_ = zoomed(scale_, io.MousePos, std::pow(wheel_zoom, io.MouseWheel), least_px_per_mm * ui.scale);
    free_ = true;
  }
  const auto button = [](auto asked) {
    return asked(ImGuiMouseButton_Right) || asked(ImGuiMouseButton_Middle);
  };
  const bool held = button([](int b) { return ImGui::IsMouseDown(b); }) ||
                    (ImGui::IsMouseDown(ImGuiMouseButton_Left) && !hand_.holds());
  const bool pressed = button([](int b) { return ImGui::IsMouseClicked(b); }) ||
                       (ImGui::IsMouseClicked(ImGuiMouseButton_Left) && !hand_.holds());
  // The movement before the press doesn't count.
  if (panning_ && held && !pressed && (io.MouseDelta.x != 0 || io.MouseDelta.y != 0)) {
    flight_.end();
    scale_.middle_mm -= glm::dvec2(io.MouseDelta.x, -io.MouseDelta.y) / scale_.px_per_mm;
    free_ = true;
  }
  panning_ = held && (panning_ || (hovered && pressed));
  if (hovered && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left) && !hand_.holds()) fit();
}

}  // namespace petalproof::window
