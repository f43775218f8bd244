#include "viewer/window/panel_hand.h"

#include "viewer/window/wall_drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::window {
namespace {

Area areaOf(const DrawingScale& scale, const scene::PanelGrid& panels, const app::CellRef& cell) {
  const double left = panels.left_mm(cell.column);
  const double top = panels.top_mm(cell.row);
  return {scale.screenOf({left, top}),
          scale.screenOf({left + panels.panel_width_mm, top - panels.panel_height_mm})};
}

void drawOutline(const Ui& ui, const Area& area, float width) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRect(area.min, area.max, faded(ui.theme.paper, 0.8F), 0, 0, (width + 2) * ui.scale);
  list.AddRect(area.min, area.max, ui.theme.pencil, 0, 0, width * ui.scale);
}

std::string wordsFor(const plan::Plan& plan, const app::CellRef& cell) {
  const plan::Cell& hung = plan.wall.grid.at(cell.column, cell.row);
  const std::string name = plan::cellName(cell.column, cell.row);
  if (!hung.hasPanel()) return name + ": no panel";
  return fmt::format("{}: {}{}", name, hung.layout, hung.upside_down ? ", upside down" : "");
}

bool inGrid(const plan::Plan& plan, const app::CellRef& cell) {
  return cell.column >= 0 && cell.row >= 0 && cell.column < plan.wall.columns && cell.row < plan.wall.rows;
}

}  // namespace

std::optional<app::CellRef> cellAt(const scene::PanelGrid& panels, glm::dvec2 board_mm) {
  const glm::dvec2 outline(panels.width_mm(), panels.height_mm());
  if (board_mm.x < 0 || board_mm.y < 0 || board_mm.x > outline.x || board_mm.y > outline.y)
    return std::nullopt;
  return app::CellRef{panels.columnAt(board_mm.x), panels.rowAt(board_mm.y)};
}

app::Actions PanelHand::work(const DrawingScale& scale, const scene::PanelGrid& panels, bool hovered) {
  app::Actions actions;
  const ImGuiIO& io = ImGui::GetIO();
  const bool points = hovered && io.KeyAlt;
  over_ = points || held_ ? cellAt(panels, scale.boardOf(io.MousePos)) : std::nullopt;
  if (points && over_ && ImGui::IsMouseClicked(ImGuiMouseButton_Left)) {
    held_ = over_;
    actions.emplace_back(app::Select{{{}, {*over_}}});
  }
  if (held_ && !ImGui::IsMouseDown(ImGuiMouseButton_Left)) {
    if (over_ && *over_ != *held_) {
      actions.emplace_back(app::Edit{app::SwapCells{*held_, *over_}, 0});
      actions.emplace_back(app::Select{{{}, {*over_}}});
    }
    held_.reset();
  }
  return actions;
}

void PanelHand::draw(const app::State& state, const Ui& ui, const DrawingScale& scale,
                     const scene::PanelGrid& panels) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  for (const app::CellRef& cell : state.selection.cells) {
    if (!inGrid(state.plan(), cell)) continue;
    const Area area = areaOf(scale, panels, cell);
    drawOutline(ui, area, 2);
    drawLabel(list, ui, ui.fonts.small, {area.middle().x, area.min.y + 4 * ui.scale},
              wordsFor(state.plan(), cell), 0.5F, 0);
  }
  if (!over_ || !inGrid(state.plan(), *over_)) return;
  const Area area = areaOf(scale, panels, *over_);
  drawOutline(ui, area, 1);
  const bool swaps = held_ && *held_ != *over_;
  const std::string words = wordsFor(state.plan(), *over_);
  drawLabel(list, ui, ui.fonts.small, area.middle(), swaps ? "swap with " + words : words, 0.5F, 0.5F);
}

}  // namespace petalproof::window
