#include "viewer/window/panels/notebook.h"

#include "viewer/window/panels/gaps_page.h"
#include "viewer/window/panels/letter_buttons.h"

#include <GLFW/glfw3.h>

#include <array>
#include <cfloat>
#include <optional>

namespace petalproof::window {
namespace {

// The index of the page that Ctrl and a number ask for.
std::optional<int> askedPage(const Ui& ui, int pages) {
  if (ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel))
    return std::nullopt;
  for (int k = 0; k < pages; ++k)
    if (ui.wasPressed(GLFW_KEY_1 + k, GLFW_MOD_CONTROL)) return k;
  return std::nullopt;
}

// The warning below every page, which stays until the work is safe.
std::string warningOf(const app::State& state) {
  if (state.at_risk.empty()) return {};
  return "Unsaved work isn't safe until you save the plan: " + state.at_risk;
}

float heightOf(const std::string& words, const Ui& ui, bool has_button) {
  if (words.empty()) return 0;
  const float width = ImGui::GetContentRegionAvail().x;
  return ImGui::CalcTextSize(words.c_str(), nullptr, false, width).y +
         (has_button ? ImGui::GetTextLineHeightWithSpacing() : 0) + 10 * ui.scale;
}

void drawWarning(const app::State& state, const Ui& ui) {
  const std::string warning = warningOf(state);
  if (warning.empty()) return;
  ImGui::PushStyleColor(ImGuiCol_Text, ui.theme.warm);
  ImGui::TextWrapped("%s", warning.c_str());
  ImGui::PopStyleColor();
}

void drawNotice(const app::State& state, const Ui& ui, app::Actions& actions) {
  if (state.notice.empty()) return;
  ImGui::PushStyleColor(ImGuiCol_Text, ui.theme.ink);
  ImGui::TextWrapped("%s", state.notice.c_str());
  ImGui::PopStyleColor();
  if (ImGui::SmallButton("Seen")) actions.emplace_back(app::Dismiss{});
}

}  // namespace

// A newly opened plan gets a fresh notebook; blooms picked on the wall open their page.
void Notebook::turnTo(const app::State& state) {
  if (std::exchange(opened_, state.opened_revision) != state.opened_revision) {
    Notebook fresh;
    fresh.opened_ = opened_;
    *this = std::move(fresh);
  }
  if (!(state.selection == shown_)) {
    if (!state.selection.blooms.empty() && page_ != Page::fillers) page_ = Page::blooms;
    shown_ = state.selection;
  }
  if (was_filling_ && !state.filling) page_ = Page::fillers;
  was_filling_ = state.filling.has_value();
}

void Notebook::drawTabs(const Ui& ui) {
  struct Tab {
    Page page;
    const char* word;
  };
  static constexpr std::array<Tab, 6> tabs{{{Page::gaps, "Gaps"},
                                            {Page::shot, "Shot"},
                                            {Page::blooms, "Blooms"},
                                            {Page::wall, "Wall"},
                                            {Page::fillers, "Fillers"},
                                            {Page::plan, "Plan"}}};
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float left = ImGui::GetCursorScreenPos().x;
  const float right = left + ImGui::GetContentRegionAvail().x;
  for (const Tab& tab : tabs) {
    const bool chosen = tab.page == page_;
    ImFont* const font = chosen ? ui.fonts.bold : ui.fonts.text;
    const ImVec2 size = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, tab.word);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    if (ImGui::InvisibleButton(tab.word, {size.x + 4 * ui.scale, size.y + 8 * ui.scale})) page_ = tab.page;
    const bool lit = chosen || ImGui::IsItemHovered() || ImGui::IsItemFocused();
    drawText(list, font, lit ? ui.theme.ink : ui.theme.faint, {at.x, at.y + 2 * ui.scale}, tab.word);
    if (chosen)
      list.AddLine({at.x, at.y + size.y + 5 * ui.scale}, {at.x + size.x, at.y + size.y + 5 * ui.scale},
                   ui.theme.pencil, 2 * ui.scale);
    ImGui::SameLine(0, 7 * ui.scale);
  }
  ImGui::NewLine();
  const float y = ImGui::GetCursorScreenPos().y - 3 * ui.scale;
  list.AddLine({left, y}, {right, y}, ui.theme.line, ui.scale);
}

// Draws rarely needed buttons along the lower edge.
void Notebook::drawFoot(const app::State& state, const Ui& ui, app::Actions& actions) {
  ImGui::PushFont(ui.fonts.small);
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(6 * ui.scale, 3 * ui.scale));
  if (ImGui::Button("Save as")) wish_ = Wish::saveElsewhere;
  ImGui::SameLine();
  if (ImGui::Button("Another plan")) wish_ = Wish::closePlan;
  ImGui::SameLine();
  if (ImGui::Button("Help")) wish_ = Wish::help;
  ImGui::SameLine();
  letterButtons(state, ui, actions);
  ImGui::PopStyleVar();
  ImGui::PopFont();
}

app::Actions Notebook::drawPage(const app::State& state, const Ui& ui) {
  switch (page_) {
    case Page::gaps: return drawGapsPage(state, ui);
    case Page::shot: return shot_.draw(state, ui);
    case Page::blooms: return blooms_.draw(state, ui);
    case Page::wall: return wall_.draw(state, ui);
    case Page::fillers: return fillers_.draw(state, ui);
    case Page::plan: return plan_.draw(state, ui);
  }
  return {};
}

app::Actions Notebook::draw(const app::State& state, const Ui& ui, const Area& area) {
  app::Actions actions;
  if (!state.hasPlan()) return actions;
  turnTo(state);
  beginArea("notes", area, Keys::throughWidgets);
  drawSheet(*ImGui::GetWindowDrawList(), ui, area);
  const float room = 10 * ui.scale;
  ImGui::SetCursorScreenPos({area.min.x + room, area.min.y + room});
  ImGui::BeginChild("notebook", {area.width() - 2 * room, area.height() - 2 * room}, false, walked_through);
  const auto asked = askedPage(ui, static_cast<int>(Page::plan) + 1);
  if (asked) page_ = static_cast<Page>(*asked);
  drawTabs(ui);
  if (asked) ImGui::SetNextWindowFocus();
  // Each page is a child of its own: keys begin at its first widget, and it keeps its scrolling.
  ImGui::BeginChild(static_cast<ImGuiID>(page_) + 1,
                    {0, -ImGui::GetFrameHeightWithSpacing() - heightOf(state.notice, ui, true) -
                            heightOf(warningOf(state), ui, false)},
                    false, walked_through);
  const app::Actions page_actions = drawPage(state, ui);
  actions.insert(actions.end(), page_actions.begin(), page_actions.end());
  ImGui::EndChild();
  drawWarning(state, ui);
  drawNotice(state, ui, actions);
  drawFoot(state, ui, actions);
  ImGui::EndChild();
  ImGui::End();
  return actions;
}

}  // namespace petalproof::window
