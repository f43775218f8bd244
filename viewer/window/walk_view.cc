#include "viewer/window/walk_view.h"

#include "engine/base/length_text.h"

#include <GLFW/glfw3.h>
#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::window {
namespace {

constexpr double eye_height_mm = 1600;   // of a standing adult
constexpr double steps_mm_per_s = 1400;  // a calm walk
constexpr double nearest_mm = 250;       // to the board
constexpr double farthest_mm = 8500;
constexpr double deg_per_px = 0.18;  // of a drag; set by trial, as the next values
constexpr double turn_deg_per_s = 50;
constexpr double across_deg = 58;  // of the view's width
constexpr double wheel_step_mm = 160;
constexpr double close_look_mm = 900;  // from the board, before a chosen gap
constexpr double steepest_deg = 80;
constexpr double longest_frame_s = 0.2;  // after a slow frame nobody walks far
constexpr double beside_mm = 2300;       // how far beside the wall the room reaches
constexpr double lowest_mm = 150;        // of the eyes, above the floor
constexpr double lowest_top_mm = 2500;   // eyes rise at least this high above the wall's lower edge

bool isDown(int key, int same_key) { return ImGui::IsKeyDown(key) || ImGui::IsKeyDown(same_key); }

// The place moved into the room, in front of the board and above the floor.
glm::dvec3 inRoom(glm::dvec3 at, const scene::PanelGrid& panels) {
  at.x = std::clamp(at.x, -beside_mm, panels.width_mm() + beside_mm);
  at.y = std::clamp(at.y, lowest_mm - panels.above_floor_mm, std::max(panels.height_mm(), lowest_top_mm));
  at.z = std::clamp(at.z, nearest_mm, farthest_mm);
  return at;
}

}  // namespace

void WalkView::standBefore(glm::dvec2 board_mm, const scene::PanelGrid& panels) {
  const glm::dvec3 at = inRoom({board_mm.x, eye_height_mm - panels.above_floor_mm, close_look_mm}, panels);
  const double down_deg = degrees(std::atan2(board_mm.y - at.y, at.z));
  to_ = Eye{at, 0, down_deg};
  from_ = eye_.value_or(to_);
  eye_ = from_;
  flight_.begin(ImGui::GetTime());
}

void WalkView::fly() {
  if (!flight_.isOn()) return;
  const double share = flight_.share(ImGui::GetTime());
  eye_->at_mm = from_.at_mm + share * (to_.at_mm - from_.at_mm);
  eye_->right_deg = from_.right_deg + share * (to_.right_deg - from_.right_deg);
  eye_->up_deg = from_.up_deg + share * (to_.up_deg - from_.up_deg);
}

void WalkView::draw(const app::State& state, const Ui& ui, const Area& area, WallPictures& pictures) {
  if (!pictures.hasWall()) return;
  const scene::PanelGrid& panels = pictures.scene().panels;
  if (!eye_) {
    const double out = std::clamp(1.55 * panels.width_mm(), 2200.0, farthest_mm);
    eye_ = Eye{inRoom({panels.width_mm() / 2, eye_height_mm - panels.above_floor_mm, out}, panels), 0, -7};
  }
  fly();
  beginArea("walk around", area);
  ImGui::SetCursorScreenPos(area.min);
  ImGui::InvisibleButton("look", {area.width(), area.height()});
  look(ImGui::IsItemHovered());
  walk(panels, !ImGui::GetIO().WantTextInput && !ImGui::GetIO().NavActive);
  const glm::ivec2 size = pixelsOf(area);
  PictureWish wish;
  wish.view = gl::viewOf(
      gl::eyeCamera({eye_->at_mm}, eye_->right_deg, eye_->up_deg, across_deg, size.x, size.y), panels);
  wish.look = lookOf(state, mark_px * ui.scale * pixelDensity());
  wish.people_of = state.shot;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  drawTexture(list, pane_.show(pictures, wish, isMoving() || looking_), area);
  const Units units = state.plan().units;
  const ImVec2 corner(area.min.x + 10 * ui.scale, area.min.y + 8 * ui.scale);
  const Area where = drawLabel(
      list, ui, ui.fonts.small, corner,
      fmt::format("Eyes {} above the floor, {} from the board",
                  walkText(eye_->at_mm.y + panels.above_floor_mm, units), walkText(eye_->at_mm.z, units)),
      0, 0);
  drawLabel(list, ui, ui.fonts.small, {corner.x, where.max.y + 4 * ui.scale},
            "Drag or Q, E to look; W A S D, arrows or wheel to walk; Page up and down", 0, 0);
  ImGui::End();
}

void WalkView::look(bool hovered) {
  const ImGuiIO& io = ImGui::GetIO();
  const bool pressed = hovered && ImGui::IsMouseClicked(ImGuiMouseButton_Left);
  if (pressed) looking_ = true;
  if (!ImGui::IsMouseDown(ImGuiMouseButton_Left)) looking_ = false;
  if (looking_ && !pressed) {
    flight_.end();
    eye_->right_deg = std::remainder(eye_->right_deg - deg_per_px * io.MouseDelta.x, 360.0);
    eye_->up_deg = std::clamp(eye_->up_deg + deg_per_px * io.MouseDelta.y, -steepest_deg, steepest_deg);
  }
  if (hovered && io.MouseWheel != 0) {
    flight_.end();
    const double right = radians(eye_->right_deg);
    eye_->at_mm += wheel_step_mm * io.MouseWheel * glm::dvec3(std::sin(right), 0, -std::cos(right));
  }
}

void WalkView::walk(const scene::PanelGrid& panels, bool focused) {
  walking_ = false;
  if (focused && !ImGui::GetIO().KeyCtrl) {
    const double forward =
        (isDown(GLFW_KEY_W, GLFW_KEY_UP) ? 1 : 0) - (isDown(GLFW_KEY_S, GLFW_KEY_DOWN) ? 1 : 0);
    const double aside =
        (isDown(GLFW_KEY_D, GLFW_KEY_RIGHT) ? 1 : 0) - (isDown(GLFW_KEY_A, GLFW_KEY_LEFT) ? 1 : 0);
    const double up =
        (ImGui::IsKeyDown(GLFW_KEY_PAGE_UP) ? 1 : 0) - (ImGui::IsKeyDown(GLFW_KEY_PAGE_DOWN) ? 1 : 0);
    const double right = radians(eye_->right_deg);
    const double step =
        steps_mm_per_s * std::min(static_cast<double>(ImGui::GetIO().DeltaTime), longest_frame_s);
    eye_->at_mm +=
        step * (forward * glm::dvec3(std::sin(right), 0, -std::cos(right)) +
                aside * glm::dvec3(std::cos(right), 0, std::sin(right)) + up * glm::dvec3(0, 0.6, 0));
    const double turn = (ImGui::IsKeyDown(GLFW_KEY_E) ? 1 : 0) - (ImGui::IsKeyDown(GLFW_KEY_Q) ? 1 : 0);
    eye_->right_deg = std::remainder(
        eye_->right_deg +
            turn_deg_per_s * turn * std::min(static_cast<double>(ImGui::GetIO().DeltaTime), longest_frame_s),
        360.0);
    walking_ = forward != 0 || aside != 0 || up != 0 || turn != 0;
    if (walking_) flight_.end();
  }
  eye_->at_mm = inRoom(eye_->at_mm, panels);
}

}  // namespace petalproof::window
