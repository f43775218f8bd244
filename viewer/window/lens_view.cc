#include "viewer/window/lens_view.h"

#include "engine/base/length_text.h"
#include "engine/camera/framing.h"
#include "engine/camera/lens.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::window {
namespace {

// What lies behind the wall and before it is in the picture, too.
constexpr double behind_mm = 900;
constexpr double before_mm = 300;

ImTextureID textureId(GLuint texture) {
  return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture));  // NOLINT: Dear ImGui's way
}

// From the nearest to the farthest thing that the lens has to spread.
gl::LensSpread spreadFor(const Camera& camera, const Shot& shot, const WallFrame& wall) {
  const WallPoint middle{{wall.width_mm / 2, wall.height_mm / 2, 0}};
  const double board = std::max(axisDistanceMm(camera, middle), 200.0);
  double nearest = std::max(board - before_mm, 100.0);
  for (const WallPoint& eyes : eyesOf(shot, wall))
    nearest = std::clamp(axisDistanceMm(camera, eyes) - before_mm, 100.0, nearest);
  return gl::spreadOf(camera, nearest, board + behind_mm);
}

const Shot* chosenShot(const app::State& state, const std::vector<Shot>& shots) {
  const bool there = state.shot >= 0 && state.shot < static_cast<int>(shots.size());
  return there ? &shots[static_cast<std::size_t>(state.shot)] : nullptr;
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

Camera widened(const Camera& camera, double frame_width_px, int width_px, int height_px) {
  const double scale = frame_width_px / camera.width_px;
  Camera wide = camera;
  wide.focal_px = camera.focal_px * scale;
  wide.pixel_pitch_mm = camera.pixel_pitch_mm / scale;
  wide.width_px = width_px;
  wide.height_px = height_px;
  return wide;
}

PictureWish deliveredPicture(const app::State& state, const PanelGrid& panels, const Camera& camera,
                             int longest_px) {
  const double longest = std::max(camera.width_px, camera.height_px);
  const Camera sized =
      scaledTo(camera, std::max(1, static_cast<int>(std::lround(camera.width_px * longest_px / longest))));
  const std::vector<Shot> shots = app::shotsOf(state.plan());
  PictureWish wish;
  wish.view = gl::viewOf(sized, panels);
  wish.look.people = state.view.people ? 1.0F : 0.0F;
  wish.look.signs = false;
  wish.people_of = state.shot;
  if (state.view.blur)
    if (const Shot* const shot = chosenShot(state, shots))
      wish.spread = spreadFor(sized, *shot, wallFrameOf(state.plan()));
  return wish;
}

void LensView::draw(const app::State& state, const Ui& ui, const Area& area, WallPictures& pictures) {
  if (!pictures.hasWall()) return;
  const std::vector<Shot> shots = app::shotsOf(state.plan());
  const Shot* const shot = chosenShot(state, shots);
  if (shot == nullptr) return;
  const WallFrame wall = wallFrameOf(state.plan());
  beginArea("through the lens", area);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const auto camera = makeCamera(*shot, wall);
  if (!camera) {
    drawText(list, ui.fonts.text, ui.theme.warm, area.middle(), camera.problems.front().message, 0.5F, 0.5F);
    ImGui::End();
    return;
  }
  const float room = 0.84F;
  const float across = room * area.width() / static_cast<float>(camera.value->width_px);
  const float down = room * area.height() / static_cast<float>(camera.value->height_px);
  const float scale = std::min(across, down);
  const ImVec2 half(scale * static_cast<float>(camera.value->width_px) / 2,
                    scale * static_cast<float>(camera.value->height_px) / 2);
  const ImVec2 middle = area.middle();
  const Area frame{{middle.x - half.x, middle.y - half.y}, {middle.x + half.x, middle.y + half.y}};
  const float dense = std::max(ImGui::GetIO().DisplayFramebufferScale.x, 1.0F);
  const Camera wide =
      widened(*camera.value, frame.width() * dense, std::max(1, static_cast<int>(area.width() * dense)),
              std::max(1, static_cast<int>(area.height() * dense)));
  PictureWish wish;
  wish.view = gl::viewOf(wide, pictures.scene().panels);
  wish.look.people = state.view.people ? 1.0F : 0.0F;
  wish.people_of = state.shot;
  wish.look.marks = state.view.marks && !state.view.heat;
  wish.look.heat = state.view.heat;
  wish.look.ink.width_px = 1.3F * ui.scale * dense;
  if (state.view.blur) wish.spread = spreadFor(wide, *shot, wall);
  list.AddImage(textureId(pane_.show(pictures, wish)), area.min, area.max, {0, 1}, {1, 0});
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

// Where the frame runs off the wall: a warm line along that edge, with how far.
void LensView::drawEdges(const Shot& shot, const Camera& camera, const WallFrame& wall, const Ui& ui,
                         const Area& frame) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const OffWall off = offWall(camera, wall);
  const float out = 10 * ui.scale;
  const auto edge = [&](ImVec2 from, ImVec2 to) { list.AddLine(from, to, ui.theme.warm, 4 * ui.scale); };
  if (isOff(off.top_mm)) {
    edge(frame.min, {frame.max.x, frame.min.y});
    drawLabel(list, ui, ui.fonts.small, {frame.middle().x, frame.min.y + out},
              offWords(off.top_mm, wall.units), 0.5F, 0);
  }
  if (isOff(off.bottom_mm)) {
    edge({frame.min.x, frame.max.y}, frame.max);
    drawLabel(list, ui, ui.fonts.small, {frame.middle().x, frame.max.y - out},
              offWords(off.bottom_mm, wall.units), 0.5F, 1);
  }
  if (isOff(off.left_mm)) {
    edge(frame.min, {frame.min.x, frame.max.y});
    drawLabel(list, ui, ui.fonts.small, {frame.min.x + out, frame.middle().y},
              offWords(off.left_mm, wall.units), 0);
  }
  if (isOff(off.right_mm)) {
    edge({frame.max.x, frame.min.y}, frame.max);
    drawLabel(list, ui, ui.fonts.small, {frame.max.x - out, frame.middle().y},
              offWords(off.right_mm, wall.units), 1);
  }
  const std::string name = shot.label.empty() ? shot.name : shot.label;
  const std::string words =
      fmt::format("{}:  {:.4g} mm at f/{:.3g}, {} from the board", name, shot.lens.mm, shot.aperture,
                  walkText(toMillimetres(shot.camera_out, wall.units), wall.units));
  drawText(list, ui.fonts.small, ui.theme.ink, {frame.min.x, frame.min.y - 6 * ui.scale}, words, 0, 1);
}

}  // namespace petalproof::window
