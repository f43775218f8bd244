#include "viewer/window/notes.h"

#include "engine/base/length_text.h"
#include "engine/gaps/gaps.h"

#include <fmt/format.h>

namespace petalproof::window {
namespace {

void listGap(const app::State& state, const app::GapRef& ref, app::Actions& actions) {
  const Gap* const gap = app::gapOf(state, ref);
  if (gap == nullptr) return;
  const Reading* const reading = app::readingOf(state, ref);
  const std::string words =
      fmt::format("{}   {} wide, {} long   {}##{}", nameOf(gap->owner),
                  tapeText(gap->width_mm, state.plan().units), tapeText(gap->length_mm, state.plan().units),
                  reading != nullptr ? nameOf(reading->reads) : "", gap->number);
  if (ImGui::Selectable(words.c_str(), state.gap == ref)) actions.emplace_back(app::ChooseGap{ref});
}

void listGaps(const app::State& state, app::Actions& actions) {
  const std::vector<app::GapRef> gaps = app::listedGaps(state, state.shot);
  if (gaps.empty()) ImGui::TextDisabled("No gap is listed.");
  for (const app::GapRef& ref : gaps) listGap(state, ref, actions);
}

void startPage(app::Actions& actions) {
  ImGui::TextWrapped("Drop a plan file onto the window, or look at the demo wall.");
  if (ImGui::Button("Open the demo")) actions.emplace_back(app::OpenDemo{});
}

}  // namespace

app::Actions drawNotes(const app::State& state, const Ui& ui, const Area& area) {
  app::Actions actions;
  beginArea("notes", area);
  drawSheet(*ImGui::GetWindowDrawList(), ui, area);
  const float room = 10 * ui.scale;
  ImGui::SetCursorScreenPos({area.min.x + room, area.min.y + room});
  ImGui::BeginChild("widgets", {area.width() - 2 * room, area.height() - 2 * room});
  if (!state.notice.empty()) ImGui::TextWrapped("%s", state.notice.c_str());
  for (const Problem& problem : state.problems) ImGui::TextWrapped("%s", toString(problem).c_str());
  if (state.hasPlan()) {
    listGaps(state, actions);
  } else {
    startPage(actions);
  }
  ImGui::EndChild();
  ImGui::End();
  return actions;
}

}  // namespace petalproof::window
