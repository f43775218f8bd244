#include "viewer/window/top_bar.h"

#include <fmt/format.h>

#include <array>
#include <cfloat>
#include <utility>

namespace petalproof::window {
namespace {

using app::MainView;

// A word that acts as a button, underlined where it is chosen.
bool pressWord(const Ui& ui, const char* word, bool chosen, bool enabled = true) {
  ImFont* const font = chosen ? ui.fonts.bold : ui.fonts.text;
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, word);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const ImVec2 room(5 * ui.scale, 5 * ui.scale);
  const bool pressed = ImGui::InvisibleButton(word, {size.x + 2 * room.x, size.y + 2 * room.y}) && enabled;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const bool hovered = ImGui::IsItemHovered() && enabled;
  const ImU32 colour = !enabled            ? faded(ui.theme.faint, 0.5F)
                       : chosen || hovered ? ui.theme.ink
                                           : ui.theme.faint;
  drawText(list, font, colour, {at.x + room.x, at.y + room.y}, word);
  const float y = at.y + size.y + room.y + 2 * ui.scale;
  if (chosen || ImGui::IsItemFocused())
    list.AddLine({at.x + room.x, y}, {at.x + room.x + size.x, y}, ui.theme.pencil,
                 (chosen ? 2.0F : 1.0F) * ui.scale);
  ImGui::SameLine(0, 4 * ui.scale);
  return pressed;
}

void drawTitle(const app::State& state, const Ui& ui, const Area& area) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const std::string name = state.hasPlan() ? state.plan().title : std::string("Petalproof");
  const Area title =
      drawText(list, ui.fonts.title, ui.theme.ink, {area.min.x + 14 * ui.scale, area.middle().y},
               shortened(ui.fonts.title, name, area.width() * 0.26F), 0, 0.5F);
  const bool at_risk = !state.at_risk.empty();
  if (state.changed())
    drawText(list, ui.fonts.small, at_risk ? ui.theme.warm : ui.theme.faint,
             {title.max.x + 8 * ui.scale, title.max.y - 5 * ui.scale},
             at_risk ? "not saved, not safe" : "not saved", 0, 1);
}

void stepWord(const app::State& state, const Ui& ui, bool undo, app::Actions& actions) {
  const auto& steps = undo ? state.history.done : state.history.undone;
  const bool has_steps = !steps.empty();
  if (pressWord(ui, undo ? "Undo" : "Redo", false, has_steps))
    actions.push_back(undo ? app::Action(app::Undo{}) : app::Action(app::Redo{}));
  if (has_steps && ImGui::IsItemHovered())
    ImGui::SetTooltip("%s %s", undo ? "Undo:" : "Redo:", steps.back().name.c_str());
}

void drawProgress(const app::State& state, const Ui& ui, const Area& area) {
  if (!state.hasPlan() || state.live.progress >= 1) return;
  const float width = 84 * ui.scale;
  const float y = area.max.y - 7 * ui.scale;
  const float x = area.max.x - 14 * ui.scale - width;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddLine({x, y}, {x + width, y}, ui.theme.line, 3 * ui.scale);
  list.AddLine({x, y}, {x + width * static_cast<float>(state.live.progress), y}, ui.theme.pencil,
               3 * ui.scale);
}

}  // namespace

app::Actions drawTopBar(const app::State& state, const Ui& ui, const Area& area) {
  static constexpr std::array<std::pair<MainView, const char*>, 3> views{
      {{MainView::wallDrawing, "Wall drawing"},
       {MainView::walkAround, "Walk around"},
       {MainView::throughLens, "Through the lens"}}};
  app::Actions actions;
  beginArea("top", area);
  drawTitle(state, ui, area);
  if (state.hasPlan()) {
    ImGui::SetCursorScreenPos({area.min.x + area.width() * 0.34F, area.min.y + 9 * ui.scale});
    for (const auto& [view, word] : views) {
      if (!pressWord(ui, word, state.view.main == view)) continue;
      app::ViewChoices choices = state.view;
      choices.main = view;
      actions.emplace_back(app::SetView{choices});
    }
    ImGui::SetCursorScreenPos({area.max.x - 182 * ui.scale, area.min.y + 9 * ui.scale});
    stepWord(state, ui, true, actions);
    stepWord(state, ui, false, actions);
    if (pressWord(ui, "Save", false, state.changed())) actions.emplace_back(app::Save{});
  }
  drawProgress(state, ui, area);
  ImGui::End();
  return actions;
}

app::Actions drawViewChoices(const app::State& state, const Ui& ui, const Area& area) {
  struct Choice {
    const char* word;
    bool app::ViewChoices::*flag;
    const char* help;
    bool in_3d;
    bool in_lens;
  };
  static constexpr std::array<Choice, 6> known{{
      {"marks", &app::ViewChoices::marks,
       "Outlines of gaps: a solid line shows, dashes are faint, dots are lost", false, false},
      {"heat", &app::ViewChoices::heat,
       "Colours each place of the wall by the number of shots that see it bare", false, false},
      {"people", &app::ViewChoices::people, "The people before the wall in this shot", true, false},
      {"thirds", &app::ViewChoices::thirds, "Lines at the thirds of the frame", true, true},
      {"blur", &app::ViewChoices::blur, "Blurs the picture as the aperture does", true, true},
      {"dark", &app::ViewChoices::dark, "A dark window", false, false},
  }};
  app::Actions actions;
  const bool flat = state.view.main == MainView::wallDrawing;
  const bool lens = state.view.main == MainView::throughLens;
  const float width = (flat ? 178 : lens ? 330 : 236) * ui.scale;
  const Area strip{{area.max.x - width, area.max.y - 30 * ui.scale}, area.max};
  beginArea("choices", strip);
  ImGui::GetWindowDrawList()->AddRectFilled(strip.min, strip.max, faded(ui.theme.paper, 0.88F), 4 * ui.scale);
  ImGui::SetCursorScreenPos({strip.min.x + 4 * ui.scale, strip.min.y});
  for (const Choice& choice : known) {
    if ((flat && choice.in_3d) || (!lens && choice.in_lens)) continue;
    if (pressWord(ui, choice.word, state.view.*choice.flag)) {
      app::ViewChoices choices = state.view;
      choices.*choice.flag = !(choices.*choice.flag);
      actions.emplace_back(app::SetView{choices});
    }
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", choice.help);
  }
  ImGui::End();
  return actions;
}

}  // namespace petalproof::window
