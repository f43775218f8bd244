#include "viewer/window/panels/wall_page.h"

#include "engine/base/length_text.h"
#include "viewer/app/field_text.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::window {
namespace {

constexpr const char* dragged_cell = "cell";  // Dear ImGui's name for a dragged cell

app::Action details(const plan::Wall& wall, const char* detail, int stroke = 0) {
  return app::Edit{app::SetWallDetails{wall, detail}, stroke};
}

bool isChosen(const app::State& state, app::CellRef cell) {
  const auto& cells = state.selection.cells;
  return std::find(cells.begin(), cells.end(), cell) != cells.end();
}

}  // namespace

void WallPage::drawSize(const app::State& state, const Ui& ui, app::Actions& actions) {
  const plan::Plan& plan = state.plan();
  const float narrow = 44 * ui.scale;
  const float width = 62 * ui.scale;
  if (const auto columns = fields_.whole("across", plan.wall.columns, narrow))
    actions.emplace_back(app::Edit{app::ResizeWall{*columns, plan.wall.rows}});
  ImGui::SameLine();
  if (const auto rows = fields_.whole("down, panels of", plan.wall.rows, narrow))
    actions.emplace_back(app::Edit{app::ResizeWall{plan.wall.columns, *rows}});
  if (const auto wide = fields_.length("wide", plan.wall.panel.width, plan.units, width))
    actions.emplace_back(app::Edit{app::ResizePanel{{*wide, plan.wall.panel.height}}});
  ImGui::SameLine();
  if (const auto high = fields_.length("high", plan.wall.panel.height, plan.units, width))
    actions.emplace_back(app::Edit{app::ResizePanel{{plan.wall.panel.width, *high}}});
  const plan::Size outline = plan::wallOutline(plan.wall);
  remark(ui,
         fmt::format("The wall comes to {} by {}.", tapeText(toMillimetres(outline.width, plan), plan.units),
                     tapeText(toMillimetres(outline.height, plan), plan.units)));
}

void WallPage::drawCell(const app::State& state, const Ui& ui, app::CellRef cell, ImVec2 size,
                        app::Actions& actions) {
  const plan::Cell& hung = state.plan().wall.grid.at(cell.column, cell.row);
  ImGui::PushID(cell.row * state.plan().wall.columns + cell.column);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  if (ImGui::InvisibleButton("cell", size)) actions.emplace_back(app::Select{app::Selection{{}, {cell}}});
  if (ImGui::IsItemHovered())
    help(fmt::format("{}: {}{}. Drag it onto another to swap the two.", plan::cellName(cell.column, cell.row),
                     hung.hasPanel() ? hung.layout : "no panel", hung.upside_down ? ", upside down" : "")
             .c_str());
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 end(at.x + size.x - 2 * ui.scale, at.y + size.y - 2 * ui.scale);
  list.AddRectFilled(at, end, hung.hasPanel() ? faded(ui.theme.line, 0.35F) : faded(ui.theme.line, 0));
  list.AddRect(at, end, isChosen(state, cell) ? ui.theme.pencil : ui.theme.line, 0, 0,
               (isChosen(state, cell) ? 2.0F : 1.0F) * ui.scale);
  const std::string name = shortened(ui.fonts.small, hung.layout, size.x - 8 * ui.scale);
  drawText(list, ui.fonts.small, ui.theme.ink, {(at.x + end.x) / 2, (at.y + end.y) / 2}, name, 0.5F, 0.5F);
  if (hung.upside_down)
    list.AddTriangleFilled({end.x - 9 * ui.scale, at.y + 4 * ui.scale},
                           {end.x - 3 * ui.scale, at.y + 4 * ui.scale},
                           {end.x - 6 * ui.scale, at.y + 9 * ui.scale}, ui.theme.faint);
  if (ImGui::BeginDragDropSource()) {
    ImGui::SetDragDropPayload(dragged_cell, &cell, sizeof cell);
    ImGui::TextUnformatted(plan::cellName(cell.column, cell.row).c_str());
    ImGui::EndDragDropSource();
  }
  if (ImGui::BeginDragDropTarget()) {
    if (const ImGuiPayload* dropped = ImGui::AcceptDragDropPayload(dragged_cell))
      actions.emplace_back(app::Edit{app::SwapCells{*static_cast<const app::CellRef*>(dropped->Data), cell}});
    ImGui::EndDragDropTarget();
  }
  ImGui::PopID();
}

void WallPage::drawGrid(const app::State& state, const Ui& ui, app::Actions& actions) {
  heading(ui, "Which layout hangs where");
  const plan::Wall& wall = state.plan().wall;
  const float room = ImGui::GetContentRegionAvail().x;
  const float across = std::clamp(room / static_cast<float>(wall.columns), 26 * ui.scale, 72 * ui.scale);
  const float down = std::max(
      22 * ui.scale,
      std::min(40 * ui.scale, across * static_cast<float>(wall.panel.height.value / wall.panel.width.value)));
  const float shown = std::min(down * static_cast<float>(wall.rows), 220 * ui.scale) + 14 * ui.scale;
  ImGui::BeginChild("grid", {0, shown}, false, ImGuiWindowFlags_HorizontalScrollbar | walked_through);
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, 0));
  for (int row = 0; row < wall.rows; ++row)
    for (int column = 0; column < wall.columns; ++column) {
      if (column > 0) ImGui::SameLine();
      drawCell(state, ui, {column, row}, {across, down}, actions);
    }
  ImGui::PopStyleVar();
  ImGui::EndChild();
}

void WallPage::drawChosen(const app::State& state, const Ui& ui, app::Actions& actions) {
  if (state.selection.cells.empty()) return remark(ui, "Click a panel to change what hangs there.");
  const app::CellRef cell = state.selection.cells.front();
  const plan::Cell& hung = state.plan().wall.grid.at(cell.column, cell.row);
  std::vector<std::string> names{"no panel"};
  for (const plan::Layout& layout : state.plan().layouts) names.push_back(layout.name);
  const auto found = std::find(names.begin() + 1, names.end(), hung.layout);
  const int chosen = hung.hasPanel() && found != names.end() ? static_cast<int>(found - names.begin()) : 0;
  if (const auto picked =
          choice(plan::cellName(cell.column, cell.row).c_str(), names, chosen, 150 * ui.scale)) {
    const plan::Cell to =
        *picked == 0 ? plan::Cell{} : plan::Cell{names[static_cast<std::size_t>(*picked)], hung.upside_down};
    actions.emplace_back(app::Edit{app::SetCell{cell, to}});
  }
  if (!hung.hasPanel()) return;
  bool over = hung.upside_down;
  if (ImGui::Checkbox("upside down", &over)) actions.emplace_back(app::Edit{app::TurnOver{cell}});
  ImGui::SameLine();
  if (ImGui::Button("Its own layout")) actions.emplace_back(app::Edit{app::OwnLayout{cell}});
  help("A copy of the layout that only this panel has: what you change there stays there.");
}

void WallPage::drawBoard(const app::State& state, const Ui& ui, app::Actions& actions) {
  heading(ui, "Board and seams");
  const plan::Plan& plan = state.plan();
  plan::Wall wall = plan.wall;
  const float width = 62 * ui.scale;
  if (const auto picked = colours_.draw("board", ui, wall.board.colour)) {
    wall.board.colour = picked->colour;
    actions.push_back(details(wall, "board colour", picked->stroke));
  }
  ImGui::SameLine();
  if (const auto picked = colours_.draw("cut edge", ui, wall.board.edge.value_or(wall.board.colour))) {
    wall.board.edge = picked->colour;
    actions.push_back(details(wall, "colour of the cut edge", picked->stroke));
  }
  help("Seen in a slit from the side");
  if (const auto thick = fields_.length("thick", wall.board.thickness, plan.units, width)) {
    wall.board.thickness = *thick;
    actions.push_back(details(wall, "board thickness"));
  }
  ImGui::SameLine();
  if (const auto seam = fields_.length("seam left open", wall.seam, plan.units, width)) {
    wall.seam = *seam;
    actions.push_back(details(wall, "seam"));
  }
  help("The space left open between two panels");
  bool covered = wall.board.ground == plan::Ground::covered;
  if (ImGui::Checkbox("covered, and meant to be seen", &covered)) {
    wall.board.ground = covered ? plan::Ground::covered : plan::Ground::bare;
    actions.push_back(details(wall, "ground"));
  }
  help("Paper, cloth or paint on the board: then only its seams count as gaps.");
}

// How the wall hangs, and the room around it.
void WallPage::drawRoom(const app::State& state, const Ui& ui, app::Actions& actions) {
  heading(ui, "How it hangs, and the room");
  const plan::Plan& plan = state.plan();
  plan::Wall wall = plan.wall;
  const float width = 62 * ui.scale;
  const std::vector<std::string> mountings{"on a frame", "on a solid wall"};
  if (const auto picked =
          choice("hung", mountings, wall.mounting == plan::Mounting::frame ? 0 : 1, 2 * width)) {
    wall.mounting = *picked == 0 ? plan::Mounting::frame : plan::Mounting::solidWall;
    actions.push_back(details(wall, "how it hangs"));
  }
  if (const auto above = fields_.length("from floor to lower edge", wall.above_floor, plan.units, width)) {
    wall.above_floor = *above;
    actions.push_back(details(wall, "height above the floor"));
  }
  const auto optional = [&](const char* label, std::optional<Length>& of, const char* detail) {
    const auto typed = fields_.usualLength(label, of, plan.units, width, "Left empty where it isn't known");
    if (!typed) return;
    of = *typed;
    actions.push_back(details(wall, detail));
  };
  optional("ceiling", wall.room.ceiling, "height of the ceiling");
  ImGui::SameLine();
  optional("free floor", wall.room.depth, "free floor");
  if (const auto picked = colours_.draw("behind the seams", ui, wall.behind)) {
    wall.behind = picked->colour;
    actions.push_back(details(wall, "colour behind the seams", picked->stroke));
  }
  ImGui::SameLine();
  constexpr Colour usual{143, 138, 132};  // of a room without a colour of its own, as in the scene
  if (const auto picked = colours_.draw("the room", ui, wall.room.colour.value_or(usual))) {
    wall.room.colour = picked->colour;
    actions.push_back(details(wall, "colour of the room", picked->stroke));
  }
  help("Beyond the wall's outer edge");
}

app::Actions WallPage::draw(const app::State& state, const Ui& ui) {
  app::Actions actions;
  drawSize(state, ui, actions);
  drawGrid(state, ui, actions);
  drawChosen(state, ui, actions);
  drawBoard(state, ui, actions);
  drawRoom(state, ui, actions);
  return actions;
}

}  // namespace petalproof::window
