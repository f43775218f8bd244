#include "viewer/window/lens_view.h"

#include "engine/base/length_text.h"
#include "engine/camera/framing.h"
#include "engine/camera/lens.h"
#include "engine/camera/projection.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::window {
namespace {

// Depths beyond the wall and before the nearest eyes that the blur takes into account: the room's back wall,
// a person's arms. The least distances keep the blur defined for cameras very near the wall.
constexpr double behind_mm = 900;
constexpr double before_mm = 300;
constexpr double least_board_mm = 200;
constexpr double least_near_mm = 100;

// The blur for the range of distances in the shot's picture.
gl::LensSpread spreadFor(const camera::Camera& camera, const plan::Shot& shot,
                         const camera::WallFrame& wall) {
  const WallPoint middle{{wall.width_mm / 2, wall.height_mm / 2, 0}};
  const double board = std::max(camera::axisDistanceMm(camera, middle), least_board_mm);
  double nearest = std::max(board - before_mm, least_near_mm);
  for (const WallPoint& eyes : camera::eyesOf(shot, wall))
    nearest = std::clamp(camera::axisDistanceMm(camera, eyes) - before_mm, least_near_mm, nearest);
  return gl::spreadOf(camera, nearest, board + behind_mm);
}

const plan::Shot* chosenShot(const app::State& state, const std::vector<plan::Shot>& shots) {
  const bool exists = state.shot >= 0 && state.shot < static_cast<int>(shots.size());
  return exists ? &shots[static_cast<std::size_t>(state.shot)] : nullptr;
}

// The frame in the middle of the area, with room for its surroundings.
Area frameIn(const Area& area, const camera::Camera& camera) {
  constexpr float share = 0.84F;  // of the area's width or height
  const auto width = static_cast<float>(camera.width_px);
  const auto height = static_cast<float>(camera.height_px);
  const float scale = share * std::min(area.width() / width, area.height() / height);
  const ImVec2 middle = area.middle();
  return {{middle.x - scale * width / 2, middle.y - scale * height / 2},
          {middle.x + scale * width / 2, middle.y + scale * height / 2}};
}

void drawThirds(ImDrawList& list, const Ui& ui, const Area& frame) {
  for (const float third : {1.0F / 3, 2.0F / 3}) {
    const float x = frame.min.x + third * frame.width();
    const float y = frame.min.y + third * frame.height();
    list.AddLine({x, frame.min.y}, {x, frame.max.y}, IM_COL32(255, 255, 255, 150), ui.scale);
    list.AddLine({frame.min.x, y}, {frame.max.x, y}, IM_COL32(255, 255, 255, 150), ui.scale);
  }
}

std::string offWords(const std::optional<double>& off_mm, Units units) {
  return off_mm ? tapeText(*off_mm, units) + " off the wall" : std::string("endlessly off the wall");
}

bool isOff(const std::optional<double>& off_mm) { return !off_mm || *off_mm > 0; }

}  // namespace

camera::Camera widened(const camera::Camera& camera, double frame_width_px, int width_px, int height_px) {
  const double scale = frame_width_px / camera.width_px;
  camera::Camera wide = camera;
  wide.focal_px = camera.focal_px * scale;
  wide.pixel_pitch_mm = camera.pixel_pitch_mm / scale;
  wide.width_px = width_px;
  wide.height_px = height_px;
  return wide;
}

PictureWish deliveredPicture(const app::State& state, const scene::PanelGrid& panels,
                             const camera::Camera& camera, int longest_px) {
  const double longest = std::max(camera.width_px, camera.height_px);
  camera::Camera sized = camera::scaledTo(
      camera, std::max(1, static_cast<int>(std::lround(camera.width_px * longest_px / longest))));
  // scaledTo() rounds: the longer side may come out a pixel too long or too short.
  (camera.width_px >= camera.height_px ? sized.width_px : sized.height_px) = longest_px;
  const std::vector<plan::Shot> shots = app::shotsOf(state.plan());
  PictureWish wish;
  wish.view = gl::viewOf(sized, panels);
  wish.look.people = state.view.people ? 1.0F : 0.0F;
  wish.look.signs = false;
  wish.people_of = state.shot;
  if (state.view.blur)
    if (const plan::Shot* const shot = chosenShot(state, shots))
      wish.spread = spreadFor(sized, *shot, camera::wallFrameOf(state.plan()));
  return wish;
}

void LensView::draw(const app::State& state, const Ui& ui, const Area& area, WallPictures& pictures) {
  if (!pictures.hasWall()) return;
  const std::vector<plan::Shot> shots = app::shotsOf(state.plan());
  const plan::Shot* const shot = chosenShot(state, shots);
  if (shot == nullptr) return;
  const camera::WallFrame wall = camera::wallFrameOf(state.plan());
  beginArea("through the lens", area);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const auto camera = camera::makeCamera(*shot, wall);
  if (!camera) {
    drawText(list, ui.fonts.text, ui.theme.warm, area.middle(), camera.problems.front().message, 0.5F, 0.5F);
    ImGui::End();
    return;
  }
  const Area frame = frameIn(area, *camera.value);
  const glm::ivec2 size = pixelsOf(area);
  const camera::Camera wide = widened(*camera.value, frame.width() * pixelDensity(), size.x, size.y);
  PictureWish wish;
  wish.view = gl::viewOf(wide, pictures.scene().panels);
  wish.look = lookOf(state, mark_px * ui.scale * pixelDensity());
  wish.people_of = state.shot;
  if (state.view.blur) wish.spread = spreadFor(wide, *shot, wall);
  drawTexture(list, pane_.show(pictures, wish, ImGui::IsAnyMouseDown()), area);
  drawFrame(state, ui, area, frame);
  drawEdges(*shot, *camera.value, wall, ui, frame);
  client_.draw(state, ui, area, *camera.value, pictures);
  ImGui::End();
}

void LensView::drawFrame(const app::State& state, const Ui& ui, const Area& area, const Area& frame) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImU32 dim = faded(ui.theme.paper, 0.66F);
  list.AddRectFilled(area.min, {area.max.x, frame.min.y}, dim);
  list.AddRectFilled({area.min.x, frame.max.y}, area.max, dim);
  list.AddRectFilled({area.min.x, frame.min.y}, {frame.min.x, frame.max.y}, dim);
  list.AddRectFilled({frame.max.x, frame.min.y}, {area.max.x, frame.max.y}, dim);
  if (state.view.thirds) drawThirds(list, ui, frame);
  list.AddRect({frame.min.x - 1, frame.min.y - 1}, {frame.max.x + 1, frame.max.y + 1}, ui.theme.ink, 0, 0,
               1.2F * ui.scale);
}

// Marks the edges where the frame runs off the wall by a warm line and the distance.
void LensView::drawEdges(const plan::Shot& shot, const camera::Camera& camera, const camera::WallFrame& wall,
                         const Ui& ui, const Area& frame) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const camera::OffWall off = camera::offWall(camera, wall);
  const float out = 10 * ui.scale;
  const auto mark = [&](const std::optional<double>& off_mm, ImVec2 from, ImVec2 to, ImVec2 at,
                        ImVec2 anchor) {
    if (!isOff(off_mm)) return;
    list.AddLine(from, to, ui.theme.warm, 4 * ui.scale);
    drawLabel(list, ui, ui.fonts.small, at, offWords(off_mm, wall.units), anchor.x, anchor.y);
  };
  const ImVec2 a = frame.min;
  const ImVec2 b = frame.max;
  const ImVec2 m = frame.middle();
  mark(off.top_mm, a, {b.x, a.y}, {m.x, a.y + out}, {0.5F, 0});
  mark(off.bottom_mm, {a.x, b.y}, b, {m.x, b.y - out}, {0.5F, 1});
  mark(off.left_mm, a, {a.x, b.y}, {a.x + out, m.y}, {0, 0.5F});
  mark(off.right_mm, {b.x, a.y}, b, {b.x - out, m.y}, {1, 0.5F});
  const std::string name = shot.label.empty() ? shot.name : shot.label;
  const std::string words =
      fmt::format("{}:  {:.4g} mm at f/{:.3g}, {} from the board", name, shot.lens.mm, shot.aperture,
                  walkText(toMillimetres(shot.camera_out, wall.units), wall.units));
  drawText(list, ui.fonts.small, ui.theme.ink, {frame.min.x, frame.min.y - 6 * ui.scale}, words, 0, 1);
}

}  // namespace petalproof::window
