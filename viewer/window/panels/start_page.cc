#include "viewer/window/panels/start_page.h"

#include "engine/base/file.h"
#include "viewer/window/glfw_window.h"
#include "viewer/window/panels/letter_buttons.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace petalproof::window {
namespace fs = std::filesystem;
namespace {

constexpr float way_breadth = 226;   // of the column of ways to begin, at 96 dots an inch
constexpr float form_breadth = 330;  // of the questions

// A way to begin: its name and an explanation; underlined where it is chosen.
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

void drawLines(const Ui& ui, const std::vector<std::string>& lines) {
  for (const std::string& line : lines) remark(ui, line);
}

}  // namespace

StartPage::StartPage() : maker_(&GlfwWindow::wake) {}

void StartPage::beginOnce(const app::State& state) {
  if (std::exchange(begun_, true)) return;
  const bool has_plans = !state.recent.empty();
  chooser_.begin(has_plans ? state.recent.front().parent_path() : fs::path());
  if (way_ == Way::questions) go(has_plans ? Way::open : Way::questions);
}

void StartPage::go(Way way) {
  way_ = way;
  takes_wall_ = false;
  result_.reset();
  maker_.forget();
  if (way == Way::questions) askForAnswers();
  if (way == Way::tables && !tables_.isEmpty())
    askFor(
        [input = tables_.input(), folder = tables_.folder()](app::Pace pace, const app::FirstWall* before) {
          return app::firstWall(input, folder, pace, before);
        });
}

void StartPage::askForAnswers() {
  askFor([answers = answers_](app::Pace pace, const app::FirstWall* before) {
    return app::firstWall(answers, pace, before);
  });
}

// Makes the wall hastily first, for a first look. Takes over the last wall's arrangement where the same
// blooms are asked for, so that a change of colours shows at once.
void StartPage::askFor(const Recipe& recipe) {
  const auto last = result_ && *result_ ? std::make_shared<const app::FirstWall>(*result_->value) : nullptr;
  const auto hasty = [=](const app::FirstWall*) { return recipe(app::Pace::hasty, last.get()); };
  const auto careful = [=](const app::FirstWall* before) { return recipe(app::Pace::careful, before); };
  is_of_last_ask_ = takes_wall_ = false;
  maker_.ask({hasty, careful});
}

void StartPage::takeTables(const std::vector<fs::path>& files) {
  if (files.empty()) return;
  constexpr std::size_t most_bytes = std::size_t{16} << 20;  // far beyond any spreadsheet of a wall
  std::vector<Problem> problems;
  for (const fs::path& file : files) {
    auto bytes = readFile(file, most_bytes, file.filename().string());
    if (bytes) tables_.take(file, std::move(*bytes.value));
    problems.insert(problems.end(), bytes.problems.begin(), bytes.problems.end());
  }
  go(Way::tables);
  if (!problems.empty()) result_ = Result<app::FirstWall>::failure(std::move(problems));
}

void StartPage::drawWays(const app::State& state, const Ui& ui, app::Actions& actions) {
  const auto way = [&](const char* word, const char* words, Way to) {
    if (wayWord(ui, word, words, way_ == to) && way_ != to) go(to);
  };
  way("Open a plan", "One of yours, from its folder.", Way::open);
  way("From a spreadsheet", "Paste the wall's cells and the list of blooms.", Way::tables);
  way("Four questions", "Panel, wall, room; then a palette and how many blooms.", Way::questions);
  if (wayWord(ui, "The demo wall", "Twenty-five panels to try everything on.", false))
    actions.emplace_back(app::OpenDemo{});
  if (state.recent.empty()) return;
  heading(ui, "Recent plans");
  for (const fs::path& plan : state.recent) {
    ImGui::PushID(plan.c_str());
    if (ImGui::Selectable(plan.stem().c_str(), false, 0, {(way_breadth - 30) * ui.scale, 0}))
      actions.emplace_back(app::OpenPlan{plan});
    help(plan.c_str());
    ImGui::PopID();
  }
}

// Draws rarely needed buttons along the lower edge.
void StartPage::drawFoot(const app::State& state, const Ui& ui, app::Actions& actions) {
  ImGui::PushFont(ui.fonts.small);
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(6 * ui.scale, 3 * ui.scale));
  if (ImGui::Button("Help")) asks_help_ = true;
  ImGui::SameLine();
  if (ImGui::Button(state.view.dark ? "Light" : "Dark")) {
    app::ViewChoices view = state.view;
    view.dark = !view.dark;
    actions.emplace_back(app::SetView{view});
  }
  ImGui::SameLine();
  letterButtons(state, ui, actions);
  ImGui::PopStyleVar();
  ImGui::PopFont();
}

void StartPage::drawOpen(const app::State&, const Ui& ui, app::Actions& actions) {
  remark(ui, "A plan file can also be dropped onto the window.");
  if (const auto file = chooser_.draw(ui, ImGui::GetContentRegionAvail().y - 40 * ui.scale, false))
    actions.emplace_back(app::OpenPlan{*file});
}

void StartPage::drawTables(const Ui& ui, WallPictures& pictures, app::Actions& actions) {
  const bool known = result_ && *result_;
  if (tables_.draw(ui, known ? &result_->value->plan->plan : nullptr)) go(Way::tables);
  const ImVec2 room = ImGui::GetContentRegionAvail();
  ImGui::BeginChild("result", {room.x * 0.52F, room.y}, false, walked_through);
  drawResult(ui, actions);
  ImGui::EndChild();
  ImGui::SameLine(0, 12 * ui.scale);
  drawPicture(ui, ImGui::GetContentRegionAvail(), pictures);
}

void StartPage::drawQuestions(const Ui& ui, WallPictures& pictures, app::Actions& actions) {
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const bool known = result_ && *result_;
  ImGui::BeginChild("form", {form_breadth * ui.scale, room.y}, false, walked_through);
  const std::string hangs = known && !result_->value->hangs.empty() ? "; " + result_->value->hangs : "";
  if (questions_.draw(ui, answers_, known ? result_->value->comes_to + hangs : std::string()))
    askForAnswers();
  ImGui::EndChild();
  ImGui::SameLine(0, 14 * ui.scale);
  ImGui::BeginChild("wall", ImGui::GetContentRegionAvail(), false, walked_through);
  const float below = 8 * ImGui::GetTextLineHeightWithSpacing();
  drawPicture(ui, {ImGui::GetContentRegionAvail().x, room.y - below}, pictures);
  drawResult(ui, actions);
  ImGui::EndChild();
}

// Draws the first wall; while the next wall is made, the last.
void StartPage::drawPicture(const Ui& ui, ImVec2 size, WallPictures& pictures) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImGui::Dummy(size);
  const Area area{at, {at.x + size.x, at.y + size.y}};
  const bool known = result_ && *result_ && result_->value->scene;
  if (known) sketch_.draw(ui, area, result_->value->plan, result_->value->scene, pictures);
  if (maker_.isBusy())
    drawLabel(*ImGui::GetWindowDrawList(), ui, ui.fonts.small, area.middle(),
              is_of_last_ask_ ? "laying out the blooms more carefully ..." : "laying out the blooms ...");
}

void StartPage::drawResult(const Ui& ui, app::Actions& actions) {
  if (!result_) return;
  if (!*result_) {
    heading(ui, "The wall can't be made yet");
    for (const Problem& problem : result_->problems) remark(ui, app::inWords(problem));
    return;
  }
  const app::FirstWall& wall = *result_->value;
  // A person in a hurry may take the hasty wall, or press before it is made.
  if (mainButton(ui, "Make this wall")) takes_wall_ = true;
  if (takes_wall_ && is_of_last_ask_) {
    takes_wall_ = false;
    actions.emplace_back(app::StartWith{wall.plan});
  }
  if (way_ == Way::tables) remark(ui, wall.comes_to + ".");
  remark(ui, fmt::format("About {:.0f} % of the board stays bare, seen head-on.", 100 * wall.bare_share));
  constexpr double hardly = 0.02;  // less isn't worth a remark
  if (wall.lacking > hardly)
    remark(ui, fmt::format("With about {:.0f} % more blooms of each kind it would be full.",
                           std::ceil(100 * wall.lacking)));
  if (way_ != Way::tables) return;
  drawLines(ui, wall.remarks);
  if (!wall.guesses.empty()) heading(ui, "Guessed: put it right above, or later");
  drawLines(ui, wall.guesses);
}

app::Actions StartPage::draw(const app::State& state, const Ui& ui, const Area& area,
                             WallPictures& pictures) {
  app::Actions actions;
  beginOnce(state);
  // Arrow keys walk through the page from its first frame.
  if (!ImGui::IsWindowFocused(ImGuiFocusedFlags_AnyWindow)) ImGui::SetNextWindowFocus();
  if (auto made = maker_.take()) {
    result_ = std::move(made);
    is_of_last_ask_ = true;
  }
  beginArea("start", area, Keys::throughWidgets);
  drawSheet(*ImGui::GetWindowDrawList(), ui, area);
  const float room = 22 * ui.scale;
  ImGui::SetCursorScreenPos({area.min.x + room, area.min.y + room});
  ImGui::BeginChild("column", {way_breadth * ui.scale, area.height() - 2 * room}, false, walked_through);
  ImGui::BeginChild("ways", {0, -ImGui::GetFrameHeightWithSpacing()}, false, walked_through);
  drawWays(state, ui, actions);
  ImGui::EndChild();
  drawFoot(state, ui, actions);
  ImGui::EndChild();
  const float left = area.min.x + room + (way_breadth + 16) * ui.scale;
  ImGui::GetWindowDrawList()->AddLine({left - 14 * ui.scale, area.min.y + room},
                                      {left - 14 * ui.scale, area.max.y - room}, ui.theme.line, ui.scale);
  ImGui::SetCursorScreenPos({left, area.min.y + room});
  ImGui::BeginChild("way", {area.max.x - room - left, area.height() - 2 * room}, false, walked_through);
  switch (way_) {
    case Way::open: drawOpen(state, ui, actions); break;
    case Way::tables: drawTables(ui, pictures, actions); break;
    case Way::questions: drawQuestions(ui, pictures, actions); break;
  }
  ImGui::EndChild();
  ImGui::End();
  return actions;
}

}  // namespace petalproof::window
