#include "viewer/window/wall_sketch.h"

#include "viewer/window/tape.h"
#include "viewer/window/wall_drawing.h"

#include <algorithm>

namespace petalproof::window {
namespace {

constexpr float sketch_tape_px = 22;
constexpr float sketch_margin_px = 8;

void drawTapes(ImDrawList& list, const Ui& ui, const DrawingScale& scale, const scene::PanelGrid& panels,
               Units units) {
  const Area& inner = scale.area;
  const float tape = sketch_tape_px * ui.scale;
  const float side = sideTapeWidth(panels.height_mm(), units) * ui.scale;
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

void WallSketch::draw(const Ui& ui, const Area& area, const std::shared_ptr<const plan::LoadedPlan>& plan,
                      const std::shared_ptr<const scene::Scene>& scene, WallPictures& pictures) {
  app::State shown;
  shown.now = {plan, 1};
  shown.live.scene = scene;
  pictures.follow(shown);
  const float side = sideTapeWidth(scene->panels.height_mm(), plan->plan.units) * ui.scale;
  const Area room{{area.min.x + side, area.min.y + sketch_tape_px * ui.scale}, area.max};
  const glm::dvec2 over = overhangOf(*scene);
  const float margin = sketch_margin_px * ui.scale;
  DrawingScale scale = fittingScale(room, scene->panels, margin, over);
  // The paper ends with the wall's margin, below it and beside it.
  const auto side_px = [&](double wall_mm, double over_mm) {
    const auto hanging = static_cast<float>(over_mm * scale.px_per_mm) + 0.2F * margin;
    return static_cast<float>(wall_mm * scale.px_per_mm) + 2 * std::max(margin, hanging);
  };
  const Area inner{room.min,
                   {room.min.x + side_px(scene->panels.width_mm(), over.x),
                    room.min.y + side_px(scene->panels.height_mm(), over.y)}};
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
