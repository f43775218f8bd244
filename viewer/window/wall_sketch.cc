#include "viewer/window/wall_sketch.h"

#include "viewer/window/tape.h"
#include "viewer/window/wall_drawing.h"

namespace petalproof::window {
namespace {

constexpr float tape_px = 22;
constexpr float side_tape_px = 32;
constexpr float margin_px = 8;

void drawTapes(ImDrawList& list, const Ui& ui, const DrawingScale& scale, const PanelGrid& panels,
               Units units) {
  const Area& inner = scale.area;
  const float tape = tape_px * ui.scale;
  const float side = side_tape_px * ui.scale;
  const ImVec2 corner = scale.screenOf({0, panels.height_mm()});
  drawTape(list, ui,
           {{{inner.min.x, inner.min.y - tape}, {inner.max.x, inner.min.y}},
            true,
            corner.x,
            scale.px_per_mm,
            panels.width_mm(),
            units});
  drawTape(list, ui,
           {{{inner.min.x - side, inner.min.y}, {inner.min.x, inner.max.y}},
            false,
            corner.y,
            scale.px_per_mm,
            panels.height_mm(),
            units});
}

}  // namespace

void WallSketch::draw(const Ui& ui, const Area& area, const std::shared_ptr<const LoadedPlan>& plan,
                      const std::shared_ptr<const Scene>& scene, WallPictures& pictures) {
  app::State shown;
  shown.now = {plan, 1};
  shown.live.scene = scene;
  pictures.follow(shown);
  const Area room{{area.min.x + side_tape_px * ui.scale, area.min.y + tape_px * ui.scale}, area.max};
  DrawingScale scale = fittingScale(room, scene->panels, margin_px * ui.scale);
  // No paper without wall below it or beside it.
  const float rim = 2 * margin_px * ui.scale;
  const Area inner{room.min,
                   {room.min.x + static_cast<float>(scene->panels.width_mm() * scale.px_per_mm) + rim,
                    room.min.y + static_cast<float>(scene->panels.height_mm() * scale.px_per_mm) + rim}};
  scale.area = inner;
  PictureWish wish;
  wish.view = headOn(scale, pixelsOf(inner));
  wish.look.room = false;
  wish.look.paper = ui.theme.paper_colour;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  drawTexture(list, pane_.show(pictures, wish), inner);
  drawTapes(list, ui, scale, scene->panels, plan->plan.units);
}

}  // namespace petalproof::window
