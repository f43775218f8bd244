#include "viewer/window/panels/bloom_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace petalproof::window {
namespace {

constexpr float swatch_px = 22;  // a side, at 96 dots an inch

// A square of a colour that acts as a button.
bool swatch(const Ui& ui, Colour colour, const char* id, bool chosen) {
  const float side = swatch_px * ui.scale;
  const bool pressed = ImGui::ColorButton(id, shownAs(colour), ImGuiColorEditFlags_NoTooltip, {side, side});
  if (chosen)
    ImGui::GetWindowDrawList()->AddRect(ImGui::GetItemRectMin(), ImGui::GetItemRectMax(), ui.theme.pencil, 0,
                                        0, 2 * ui.scale);
  help(toHex(colour).c_str());
  return pressed;
}

std::vector<std::string> kindNames(const plan::Plan& plan) {
  std::vector<std::string> names;
  for (const plan::Bloom& bloom : plan.blooms) names.push_back(bloom.name);
  return names;
}

int kindOf(const plan::Plan& plan, const std::string& name) {
  const std::vector<std::string> names = kindNames(plan);
  const auto found = std::find(names.begin(), names.end(), name);
  return found == names.end() ? -1 : static_cast<int>(found - names.begin());
}

// The wall's palette: all colours of the plan's kinds, each listed once.
std::vector<Colour> paletteOf(const plan::Plan& plan) {
  std::vector<Colour> palette;
  for (const plan::Bloom& bloom : plan.blooms)
    for (const Colour colour : bloom.colours)
      if (std::find(palette.begin(), palette.end(), colour) == palette.end()) palette.push_back(colour);
  return palette;
}

// The cell whose layout gets a new bloom: the chosen cell, or else the first with a panel.
std::optional<app::CellRef> cellFor(const app::State& state) {
  if (!state.selection.cells.empty()) return state.selection.cells.front();
  if (!state.selection.blooms.empty() && !state.selection.blooms.front().isFiller())
    return state.selection.blooms.front().cell();
  const Grid<plan::Cell>& grid = state.plan().wall.grid;
  for (int row = 0; row < grid.rows(); ++row)
    for (int column = 0; column < grid.columns(); ++column)
      if (grid.at(column, row).hasPanel()) return app::CellRef{column, row};
  return std::nullopt;
}

std::map<std::string, int> countsOnWall(const plan::Plan& plan) {
  std::map<std::string, int> cells;
  std::map<std::string, int> counts;
  for (const plan::Cell& cell : plan.wall.grid.cells()) ++cells[cell.layout];
  for (const plan::Layout& layout : plan.layouts)
    for (const plan::Placement& placement : layout.blooms) counts[placement.bloom] += cells[layout.name];
  for (const plan::Filler& filler : plan.fillers) ++counts[filler.placement.bloom];
  return counts;
}

void addBloom(const app::State& state, const std::string& kind, app::Actions& actions) {
  const auto cell = cellFor(state);
  if (!cell) return;
  const plan::Size& panel = state.plan().wall.panel;
  actions.emplace_back(
      app::Edit{app::AddBloom{*cell, kind, {{panel.width.value / 2}, {panel.height.value / 2}}}});
}

}  // namespace

void BloomPage::drawPlace(const app::State& state, const Ui& ui, const plan::Placement& placement,
                          app::Actions& actions) {
  const Units units = state.plan().units;
  const float width = 62 * ui.scale;
  const app::BloomRef& bloom = state.selection.blooms.front();
  for (const int part : {bloom.column, bloom.row, bloom.index}) ImGui::PushID(part);
  if (const auto left = fields_.length("from left", placement.at.from_left, units, width))
    actions.emplace_back(app::Edit{app::PlaceBloom{bloom, {*left, placement.at.from_top}}});
  ImGui::SameLine();
  if (const auto top = fields_.length("from top", placement.at.from_top, units, width))
    actions.emplace_back(app::Edit{app::PlaceBloom{bloom, {placement.at.from_left, *top}}});
  remark(ui, bloom.isFiller() ? "On the wall, by tape." : "On the panel before it is hung, by tape.");
  if (const auto turn =
          fields_.number("turn, degrees", placement.turn_deg, 1, width, {"\u00b0", "degrees", "deg"}))
    actions.emplace_back(app::Edit{app::SetTurn{state.selection.blooms, *turn}});
  help("Clockwise seen from the front; the wheel turns it, too.");
  if (const auto raised = fields_.length("raised", placement.raised, units, width))
    actions.emplace_back(app::Edit{app::RaiseBlooms{state.selection.blooms, *raised}});
  help("The height of its base plate above the board");
  for (int k = 0; k < 3; ++k) ImGui::PopID();
}

void BloomPage::drawColours(const app::State& state, const Ui& ui, const plan::Placement& placement,
                            app::Actions& actions) {
  heading(ui, "Colour");
  const float room = ImGui::GetContentRegionAvail().x;
  const float step = swatch_px * ui.scale + ImGui::GetStyle().ItemSpacing.x;
  const int in_row = std::max(1, static_cast<int>(room / step));
  int number = 0;
  for (const Colour colour : paletteOf(state.plan())) {
    if (number > 0 && number % in_row != 0) ImGui::SameLine();
    ImGui::PushID(number++);
    if (swatch(ui, colour, "##palette", placement.colour == colour))
      actions.emplace_back(app::Edit{app::ColourBlooms{state.selection.blooms, colour}});
    ImGui::PopID();
  }
  if (placement.colour && ImGui::Button("as the kind has it"))
    actions.emplace_back(app::Edit{app::ColourBlooms{state.selection.blooms, std::nullopt}});
}

void BloomPage::drawChosen(const app::State& state, const Ui& ui, app::Actions& actions) {
  const auto& blooms = state.selection.blooms;
  const plan::Placement* const placement = app::placementOf(state.plan(), blooms.front());
  if (!placement) return;
  heading(ui,
          blooms.size() == 1 ? placement->bloom.c_str() : fmt::format("{} chosen", blooms.size()).c_str());
  const float width = ImGui::GetContentRegionAvail().x * 0.6F;
  const std::vector<std::string> names = kindNames(state.plan());
  if (const auto kind = choice("kind", names, kindOf(state.plan(), placement->bloom), width))
    actions.emplace_back(app::Edit{app::ExchangeBlooms{blooms, names[static_cast<std::size_t>(*kind)]}});
  if (blooms.size() == 1) drawPlace(state, ui, *placement, actions);
  drawColours(state, ui, *placement, actions);
  // How far a copy lies from its original, right and down: about an inch.
  const double step = state.plan().units == Units::inch         ? 1
                      : state.plan().units == Units::centimetre ? 2.5
                                                                : 25;
  if (ImGui::Button("Copy")) actions.emplace_back(app::Edit{app::CopyBlooms{blooms, {{step}, {step}}}});
  ImGui::SameLine();
  if (ImGui::Button("Delete")) actions.emplace_back(app::Edit{app::DeleteBlooms{blooms}});
  if (!blooms.front().isFiller())
    return remark(ui, "What changes here changes on every panel of this layout.");
  const auto filler = static_cast<std::size_t>(blooms.front().index);
  bool fixed = state.plan().fillers[filler].fixed;
  ImGui::SameLine();
  if (ImGui::Checkbox("fixed", &fixed))
    actions.emplace_back(app::Edit{app::FixFillers{{blooms.front().index}, fixed}});
  help("A fixed filler stays where the hand put it when fillers are placed anew.");
}

void BloomPage::drawKinds(const app::State& state, const Ui& ui, app::Actions& actions) {
  heading(ui, "Kinds of bloom");
  const std::map<std::string, int> counts = countsOnWall(state.plan());
  for (std::size_t k = 0; k < state.plan().blooms.size(); ++k) {
    const plan::Bloom& bloom = state.plan().blooms[k];
    const int kind = static_cast<int>(k);
    ImGui::PushID(kind);
    if (ImGui::Button("+")) addBloom(state, bloom.name, actions);
    help("Adds a bloom to the middle of the chosen panel");
    ImGui::SameLine();
    swatch(ui, bloom.colours.front(), "##kind", false);
    ImGui::SameLine();
    const auto count = counts.find(bloom.name);
    const std::string number = std::to_string(count == counts.end() ? 0 : count->second);
    const float room = ImGui::GetContentRegionAvail().x - ImGui::CalcTextSize((number + "    ").c_str()).x;
    const std::string name = shortened(ImGui::GetFont(), bloom.name, room);
    if (ImGui::Selectable(fmt::format("{}   {}###open", name, number).c_str(), open_kind_ == kind))
      open_kind_ = open_kind_ == kind ? -1 : kind;
    if (!bloom.label.empty() || name != bloom.name)
      help((bloom.label.empty() ? bloom.name : bloom.label).c_str());
    if (open_kind_ == kind) kind_.draw(state, ui, kind, actions);
    ImGui::PopID();
  }
}

app::Actions BloomPage::draw(const app::State& state, const Ui& ui) {
  app::Actions actions;
  if (state.selection.blooms.empty())
    remark(ui, "Click a bloom on the wall; with Shift, several. Drag it, turn it with the wheel.");
  else
    drawChosen(state, ui, actions);
  drawKinds(state, ui, actions);
  return actions;
}

}  // namespace petalproof::window
