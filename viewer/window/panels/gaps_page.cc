#include "viewer/window/panels/gaps_page.h"

#include "engine/base/length_text.h"
#include "engine/check/shot_sight.h"
#include "engine/gaps/gaps.h"
#include "viewer/window/panels/fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace petalproof::window {
namespace {

struct Class {
  reading::Reads reads;
  const char* name;
  bool app::ViewChoices::*shown;
  const char* words;
};

constexpr std::array<Class, 3> classes{
    {{reading::Reads::shows, "show", &app::ViewChoices::shows, "Somebody looking at the picture sees them."},
     {reading::Reads::faint, "faint", &app::ViewChoices::faint, "Seen by who looks for them."},
     {reading::Reads::lost, "lost", &app::ViewChoices::lost,
      "Lost among petals and shades: nobody tells them from the wall's own."}}};

constexpr const char* behind_people = "behind";

ImU32 colourOf(reading::Reads reads, const Ui& ui) {
  return reads == reading::Reads::shows   ? ui.theme.warm
         : reads == reading::Reads::faint ? ui.theme.ink
                                          : ui.theme.faint;
}

// A line as the mark on the wall: whole, in dashes, in dots.
void drawSample(ImDrawList& list, const Ui& ui, ImVec2 at, float width, reading::Reads reads) {
  const float thick = 2 * ui.scale;
  const ImU32 colour = colourOf(reads, ui);
  const ImVec2 end(at.x + width, at.y);
  if (reads == reading::Reads::shows) return list.AddLine(at, end, colour, thick);
  const float dash = (reads == reading::Reads::faint ? 5.0F : 1.5F) * ui.scale;
  drawDashed(list, at, end, colour, thick, dash, 3 * ui.scale);
}

int countOf(const check::ReadingCounts& counts, reading::Reads reads) {
  switch (reads) {
    case reading::Reads::shows: return counts.show;
    case reading::Reads::faint: return counts.faint;
    case reading::Reads::lost: return counts.lost;
  }
  return 0;
}

// The three classes, each with its count and its mark, to be turned on and off.
void drawClasses(const app::State& state, const Ui& ui, const check::ShotCheck* check,
                 app::Actions& actions) {
  const check::ReadingCounts counts = check ? check::countsOf(check->readings) : check::ReadingCounts{};
  const bool read = check && check->readings.size() == check->found.holes.size();
  for (const Class& one : classes) {
    bool shown = state.view.*one.shown;
    const std::string label =
        read ? fmt::format("{} {}##{}", countOf(counts, one.reads), one.name, one.name) : one.name;
    if (ImGui::Checkbox(label.c_str(), &shown)) {
      app::ViewChoices view = state.view;
      view.*one.shown = shown;
      actions.emplace_back(app::SetView{view});
    }
    help(one.words);
    const ImVec2 low = ImGui::GetItemRectMin();
    const ImVec2 high = ImGui::GetItemRectMax();
    drawSample(*ImGui::GetWindowDrawList(), ui, {low.x + ImGui::GetFrameHeight() + 6 * ui.scale, high.y},
               26 * ui.scale, one.reads);
    ImGui::SameLine(0, 14 * ui.scale);
  }
  ImGui::NewLine();
}

std::string sizeOf(const gaps::Gap& gap, Units units) {
  return fmt::format("{} x {}", tapeText(gap.width_mm, units), tapeText(gap.length_mm, units));
}

// What it is, and how it reads, in words.
std::string wordsOf(const gaps::Gap& gap, const reading::Reading* reading) {
  std::string words;
  switch (gap.owner.kind) {
    case gaps::GapKind::board: words = "Bare board of this panel"; break;
    case gaps::GapKind::seam:
      words = gap.owner.upright ? "The seam between two panels side by side"
                                : "The seam between a panel and the next below";
      break;
    case gaps::GapKind::crossing:
      words = "The crossing, where four panels meet: the worst spot of a wall";
      break;
  }
  if (!reading) return words + ". Not read yet.";
  words += fmt::format(".\nColour difference {:.1f}", reading->difference);
  return words + fmt::format("; of a hundred pieces of this wall's paper, {} stand out less.",
                             static_cast<int>(100 * reading->odder_than));
}

// What was chosen by a key is brought into sight.
void followChoice(const app::State& state, const std::vector<app::GapRef>& listed) {
  int& seen = *ImGui::GetStateStorage()->GetIntRef(ImGui::GetID("choices seen"));
  const int choices = static_cast<int>(state.gap_choices);
  if (std::exchange(seen, choices) == choices || !state.gap) return;
  const auto at = std::find(listed.begin(), listed.end(), *state.gap);
  if (at == listed.end()) return;
  const float row = ImGui::GetTextLineHeight() + 2 * ImGui::GetStyle().CellPadding.y;
  const float top = row * static_cast<float>(at - listed.begin());
  const float sight = ImGui::GetWindowHeight();
  if (top < ImGui::GetScrollY() || top + row > ImGui::GetScrollY() + sight)
    ImGui::SetScrollY(std::max(0.0F, top - sight / 2));
}

void drawRow(const app::State& state, const Ui& ui, const app::GapRef& ref, app::Actions& actions) {
  const gaps::Gap& gap = *app::gapOf(state, ref);
  const reading::Reading* const reading = app::readingOf(state, ref);
  const bool chosen = state.gap == ref;
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImGui::PushID(gap.number);
  if (ImGui::Selectable("##row", chosen, ImGuiSelectableFlags_SpanAllColumns))
    actions.emplace_back(app::ChooseGap{ref});
  ImGui::PopID();
  if (reading)
    drawSample(*ImGui::GetWindowDrawList(), ui, {at.x, at.y + ImGui::GetTextLineHeight() / 2}, 18 * ui.scale,
               reading->reads);
  ImGui::TableNextColumn();
  ImGui::TextUnformatted(nameOf(gap.owner).c_str());
  ImGui::TableNextColumn();
  ImGui::TextUnformatted(sizeOf(gap, state.plan().units).c_str());
  ImGui::TableNextColumn();
  if (!gap.behind_people) return;
  ImGui::TextDisabled("%s", behind_people);
  help("The people of this shot stand before most of it");
}

// Under the list, of the gap that is chosen: what it is. Nothing where none is.
std::string wordsOfChosen(const app::State& state) {
  const bool there = state.gap && state.gap->shot == state.shot && app::gapOf(state, *state.gap);
  return there ? wordsOf(*app::gapOf(state, *state.gap), app::readingOf(state, *state.gap)) : std::string();
}

// `below`: the height left free.
void drawList(const app::State& state, const Ui& ui, float below, app::Actions& actions) {
  const std::vector<app::GapRef> listed = app::listedGaps(state, state.shot);
  if (listed.empty()) return remark(ui, "None of these classes.");
  remark(ui, "where, how wide and long; n: the next");
  constexpr ImGuiTableFlags flags = ImGuiTableFlags_ScrollY | ImGuiTableFlags_SizingFixedFit;
  if (!ImGui::BeginTable("gaps", 4, flags, {0, -below})) return;
  // Widths of our own: from what stands in them they are known a frame later only.
  constexpr ImGuiTableColumnFlags fixed = ImGuiTableColumnFlags_WidthFixed;
  ImGui::TableSetupColumn("", fixed, 24 * ui.scale);
  ImGui::TableSetupColumn("", fixed, ImGui::CalcTextSize("D10+E11").x);
  ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch);
  ImGui::TableSetupColumn("", fixed, ImGui::CalcTextSize(behind_people).x);
  followChoice(state, listed);
  ImGuiListClipper clipper;
  clipper.Begin(static_cast<int>(listed.size()));
  while (clipper.Step())
    for (int k = clipper.DisplayStart; k < clipper.DisplayEnd; ++k)
      drawRow(state, ui, listed[static_cast<std::size_t>(k)], actions);
  ImGui::EndTable();
}

std::string stateWords(const app::State& state, const app::ShotResult& known) {
  if (!known.check && !known.problem.empty()) return known.problem;
  if (!app::isCurrent(state, state.shot)) return "Looking at the wall ...";
  if (!known.full) return "Seen small, not read yet ...";
  return {};
}

// Pictures with the gaps marked, as files.
void drawPictures(const app::State& state, app::Actions& actions) {
  if (!state.drawing) {
    if (ImGui::Button("Marked pictures")) actions.emplace_back(app::WritePictures{});
    help("Each shot with its gaps marked, and a map of the wall, into a new folder beside the plan.");
    return;
  }
  const float room = ImGui::GetContentRegionAvail().x;
  ImGui::ProgressBar(static_cast<float>(state.drawing->share), {room * 0.3F, 0}, "");
  ImGui::SameLine();
  if (ImGui::Button("Stop")) actions.emplace_back(app::StopPictures{});
  ImGui::SameLine();
  const float left = ImGui::GetContentRegionAvail().x;
  ImGui::TextUnformatted(shortened(ImGui::GetFont(), state.drawing->what, left).c_str());
}

}  // namespace

app::Actions drawGapsPage(const app::State& state, const Ui& ui) {
  app::Actions actions;
  const auto shot = static_cast<std::size_t>(state.shot);
  if (shot >= state.live.shots.size()) return actions;
  const app::ShotResult& known = state.live.shots[shot];
  // What was so before the last change isn't shown.
  const bool current = app::isCurrent(state, state.shot);
  drawClasses(state, ui, current ? known.check.get() : nullptr, actions);
  const std::string words = stateWords(state, known);
  if (!words.empty()) remark(ui, words);
  if (!current) return actions;
  if (known.full && known.check->found.gaps.empty()) {
    remark(ui, app::seesNoWall(known)
                   ? "The wall isn't in this picture: turn the camera to it on the floor plan."
                   : "No bare board and no seam in this picture.");
    drawPictures(state, actions);
    return actions;
  }
  const std::string words_of_chosen = wordsOfChosen(state);
  float below = ImGui::GetFrameHeightWithSpacing();
  if (!words_of_chosen.empty())
    below += ImGui::GetStyle().ItemSpacing.y +
             ImGui::CalcTextSize(words_of_chosen.c_str(), nullptr, false, ImGui::GetContentRegionAvail().x).y;
  drawList(state, ui, below, actions);
  if (!words_of_chosen.empty()) remark(ui, words_of_chosen);
  drawPictures(state, actions);
  return actions;
}

}  // namespace petalproof::window
