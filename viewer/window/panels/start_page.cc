#include "viewer/window/panels/start_page.h"

#include "engine/base/file.h"
#include "engine/base/length_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cfloat>
#include <cmath>
#include <utility>

namespace petalproof::window {
namespace fs = std::filesystem;
namespace {

constexpr float way_breadth = 250;

// A way to begin: a word and what it means; underlined with pencil where it is chosen.
bool wayWord(const Ui& ui, const char* word, const char* words, bool chosen) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float breadth = (way_breadth - 30) * ui.scale;
  const float high = ui.fonts.bold->FontSize + 2.4F * ui.fonts.small->FontSize + 10 * ui.scale;
  const bool pressed = ImGui::InvisibleButton(word, {breadth, high});
  const bool lit = chosen || ImGui::IsItemHovered() || ImGui::IsItemFocused();
  const Area title = drawText(list, ui.fonts.bold, lit ? ui.theme.pencil : ui.theme.ink, at, word);
  if (chosen)
    list.AddLine({at.x, title.max.y + ui.scale}, {title.max.x, title.max.y + ui.scale}, ui.theme.pencil,
                 2 * ui.scale);
  list.AddText(ui.fonts.small, ui.fonts.small->FontSize, {at.x, title.max.y + 3 * ui.scale}, ui.theme.faint,
               words, nullptr, breadth);
  ImGui::Dummy({0, 2 * ui.scale});
  return pressed;
}

bool isGridName(const fs::path& file) {
  std::string name = file.filename().string();
  std::transform(name.begin(), name.end(), name.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return name.find("grid") != std::string::npos || name.find("wall") != std::string::npos ||
         name.find("layout") != std::string::npos;
}

void lines(const Ui& ui, const std::vector<std::string>& all) {
  for (const std::string& line : all) remark(ui, line);
}

}  // namespace

void StartPage::takeTable(const fs::path& file) {
  constexpr std::size_t most_bytes = std::size_t{16} << 20;
  const auto bytes = readFile(file, most_bytes, file.filename().string());
  way_ = Way::tables;
  wants_result_ = true;
  if (!bytes) {
    result_ = Result<app::FirstWall>::failure(bytes.problems);
    return;
  }
  (isGridName(file) ? grid_ : blooms_) = *bytes.value;
  tables_folder_ = file.parent_path();
}

void StartPage::drawWays(const app::State& state, const Ui& ui, app::Actions& actions) {
  if (wayWord(ui, "Open a plan", "One of yours, from its folder.", way_ == Way::open)) way_ = Way::open;
  if (wayWord(ui, "From a spreadsheet", "Paste the wall's cells and the list of blooms.",
              way_ == Way::tables)) {
    way_ = Way::tables;
    result_.reset();
  }
  if (wayWord(ui, "Four questions", "Panel, wall, room; then a palette and how many blooms.",
              way_ == Way::questions)) {
    way_ = Way::questions;
    wants_result_ = true;
  }
  if (wayWord(ui, "The demo wall", "Twenty-five panels to try everything on.", false))
    actions.emplace_back(app::OpenDemo{});
  if (state.recent.empty()) return;
  heading(ui, "Lately");
  for (const fs::path& plan : state.recent) {
    ImGui::PushID(plan.c_str());
    if (ImGui::Selectable(plan.stem().c_str(), false, 0, {(way_breadth - 30) * ui.scale, 0}))
      actions.emplace_back(app::OpenPlan{plan});
    help(plan.c_str());
    ImGui::PopID();
  }
}

void StartPage::drawOpen(const app::State& state, const Ui& ui, app::Actions& actions) {
  if (!std::exchange(chooser_begun_, true))
    chooser_.begin(state.recent.empty() ? fs::path() : state.recent.front().parent_path());
  remark(ui, "A plan file can also be dropped onto the window.");
  if (const auto file = chooser_.draw(ui, ImGui::GetContentRegionAvail().y - 40 * ui.scale, false))
    actions.emplace_back(app::OpenPlan{*file});
}

TablesInput StartPage::tables() const {
  TablesInput input;
  if (!grid_.empty()) input.grid = TableFile{"the wall's cells", grid_};
  if (!blooms_.empty()) input.blooms = TableFile{"the list of blooms", blooms_};
  input.panel = panel_;
  input.size = size_;
  return input;
}

void StartPage::drawTableField(const Ui& ui, const char* words, std::string& text, ImVec2 size) {
  ImGui::BeginGroup();
  ImGui::PushID(words);
  ImGui::TextUnformatted(words);
  ImGui::SameLine(size.x - 52 * ui.scale);
  if (ImGui::SmallButton("Paste")) {
    const char* const pasted = ImGui::GetClipboardText();
    text = pasted ? pasted : "";
    wants_result_ = true;
  }
  if (editText("##table", text, size)) wants_result_ = true;
  ImGui::PopID();
  ImGui::EndGroup();
}

void StartPage::drawTables(const Ui& ui, app::Actions& actions) {
  remark(
      ui,
      "Copy the cells in your spreadsheet and paste them here, or drop two CSV files onto the window. The "
      "first "
      "says which layout hangs where, row by row; the second lists the blooms with size, number and colour.");
  const float half = (ImGui::GetContentRegionAvail().x - 10 * ui.scale) / 2;
  const float high = std::max(80 * ui.scale, ImGui::GetContentRegionAvail().y * 0.34F);
  drawTableField(ui, "The wall's cells", grid_, {half, high});
  ImGui::SameLine(0, 10 * ui.scale);
  drawTableField(ui, "The list of blooms", blooms_, {half, high});
  const auto field = [&](const char* label, std::string& text) {
    if (const auto typed = fields_.text(label, text, 90 * ui.scale)) {
      text = *typed;
      wants_result_ = true;
    }
  };
  field("one panel, 24x20", panel_);
  ImGui::SameLine();
  field("the wall, about, 96x96", size_);
  if (wants_result_ && !(grid_.empty() && blooms_.empty()) && !ImGui::IsAnyItemActive()) {
    result_ = app::firstWall(tables(), tables_folder_);
    wants_result_ = false;
  }
  drawResult(ui, actions);
}

void StartPage::drawSizes(const Ui& ui) {
  const float width = 70 * ui.scale;
  const std::vector<std::string> units{"inches", "centimetres", "millimetres"};
  if (const auto picked = choice("##units", units, static_cast<int>(answers_.units), 2 * width)) {
    const double ratio = millimetresPer(answers_.units) / millimetresPer(static_cast<Units>(*picked));
    const double whole = static_cast<Units>(*picked) == Units::millimetre ? 10 : 1;
    for (Length* length : {&answers_.panel.width, &answers_.panel.height, &answers_.wall.width,
                           &answers_.wall.height, &answers_.free_floor})
      length->value = std::round(length->value * ratio / whole) * whole;
    answers_.units = static_cast<Units>(*picked);
    wants_result_ = true;
  }
  const auto length = [&](const char* label, Length& of) {
    const auto typed = fields_.length(label, of, answers_.units, width);
    if (!typed || typed->value <= 0) return;
    of = *typed;
    wants_result_ = true;
  };
  heading(ui, "1  How wide and high is a panel?");
  length("wide##panel", answers_.panel.width);
  ImGui::SameLine();
  length("high##panel", answers_.panel.height);
  heading(ui, "2  What does it hang on?");
  if (ImGui::RadioButton("a frame", answers_.frame)) answers_.frame = wants_result_ = true;
  ImGui::SameLine();
  if (ImGui::RadioButton("a solid wall", !answers_.frame)) {
    answers_.frame = false;
    wants_result_ = true;
  }
  heading(ui, "3  How large is the wall to be, about?");
  length("wide##wall", answers_.wall.width);
  ImGui::SameLine();
  length("high##wall", answers_.wall.height);
  if (result_ && *result_) remark(ui, "That comes to " + result_->value->comes_to + ".");
  heading(ui, "4  How much free floor is there in front?");
  length("from the wall", answers_.free_floor);
}

void StartPage::drawRecipe(const Ui& ui) {
  heading(ui, "Palette");
  const auto all = app::palettes();
  for (std::size_t k = 0; k < all.size(); ++k) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float side = ImGui::GetTextLineHeight();
    ImGui::PushID(static_cast<int>(k));
    if (ImGui::Selectable("##palette", answers_.palette == static_cast<int>(k), 0, {330 * ui.scale, side})) {
      answers_.palette = static_cast<int>(k);
      wants_result_ = true;
    }
    ImGui::PopID();
    float x = at.x + 2 * ui.scale;
    std::vector<Colour> colours = all[k].blooms;
    colours.push_back(all[k].green);
    for (const Colour colour : colours) {
      ImGui::GetWindowDrawList()->AddCircleFilled({x + side / 2, at.y + side / 2}, side * 0.46F,
                                                  IM_COL32(colour.red, colour.green, colour.blue, 255));
      x += side * 1.1F;
    }
    drawText(*ImGui::GetWindowDrawList(), ui.fonts.text, ui.theme.ink, {x + 8 * ui.scale, at.y}, all[k].name);
  }
  heading(ui, "Blooms on one panel");
  const auto count = [&](const char* label, int& of) {
    ImGui::SetNextItemWidth(96 * ui.scale);
    if (ImGui::InputInt(label, &of)) {
      of = std::clamp(of, 0, 60);
      wants_result_ = true;
    }
  };
  count("large", answers_.large);
  ImGui::SameLine(0, 24 * ui.scale);
  count("medium", answers_.medium);
  count("small", answers_.small);
  ImGui::SameLine(0, 24 * ui.scale);
  count("greenery", answers_.green);
}

void StartPage::drawQuestions(const Ui& ui, app::Actions& actions) {
  drawSizes(ui);
  drawRecipe(ui);
  if (wants_result_ && !ImGui::IsAnyItemActive()) {
    result_ = app::firstWall(answers_);
    wants_result_ = false;
  }
  drawResult(ui, actions);
}

void StartPage::drawResult(const Ui& ui, app::Actions& actions) {
  if (!result_) return;
  if (!*result_) {
    heading(ui, "Not yet");
    for (const Problem& problem : result_->problems) remark(ui, toString(problem));
    return;
  }
  const app::FirstWall& wall = *result_->value;
  ImGui::Dummy({0, 4 * ui.scale});
  if (ImGui::Button("Make this wall")) actions.emplace_back(app::StartWith{wall.plan});
  ImGui::SameLine();
  remark(ui, fmt::format("{}. About {:.0f} % of the board stays bare, seen head-on.", wall.comes_to,
                         100 * wall.bare_share));
  constexpr double hardly = 0.02;
  if (wall.lacking > hardly)
    remark(ui, fmt::format("With about {:.0f} % more blooms of each kind it would be full.",
                           std::ceil(100 * wall.lacking)));
  if (way_ != Way::tables) return;
  lines(ui, wall.remarks);
  if (!wall.guesses.empty()) heading(ui, "Guessed; put right in the tables, or later on the wall");
  lines(ui, wall.guesses);
}

app::Actions StartPage::draw(const app::State& state, const Ui& ui, const Area& area) {
  app::Actions actions;
  beginArea("start", area);
  drawSheet(*ImGui::GetWindowDrawList(), ui, area);
  const float room = 26 * ui.scale;
  ImGui::SetCursorScreenPos({area.min.x + room, area.min.y + room});
  ImGui::BeginChild("ways", {way_breadth * ui.scale, area.height() - 2 * room});
  drawWays(state, ui, actions);
  ImGui::EndChild();
  const float left = area.min.x + room + (way_breadth + 16) * ui.scale;
  ImGui::GetWindowDrawList()->AddLine({left - 14 * ui.scale, area.min.y + room},
                                      {left - 14 * ui.scale, area.max.y - room}, ui.theme.line, ui.scale);
  ImGui::SetCursorScreenPos({left, area.min.y + room});
  ImGui::BeginChild("way", {area.max.x - room - left, area.height() - 2 * room});
  switch (way_) {
    case Way::open: drawOpen(state, ui, actions); break;
    case Way::tables: drawTables(ui, actions); break;
    case Way::questions: drawQuestions(ui, actions); break;
  }
  ImGui::EndChild();
  ImGui::End();
  return actions;
}

}  // namespace petalproof::window
