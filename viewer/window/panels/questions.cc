#include "viewer/window/panels/questions.h"

#include <GLFW/glfw3.h>
#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <string_view>
#include <system_error>

namespace petalproof::window {
namespace fs = std::filesystem;
namespace {

constexpr const char* where = "Where to save the plan";
constexpr const char* leaving = "Not everything is saved###leaving";
constexpr const char* new_wall = "A new wall from a table###leaving";
constexpr const char* found = "Work was found that wasn't saved";
constexpr const char* on_disk = "Another program changed this plan";
constexpr const char* unreadable = "This can't be used yet###problems";
constexpr const char* undone = "This didn't work###problems";  // all else: saving, an edit
constexpr const char* help_title = "How it works";

// Begins a question in the middle of the window; where true, end it with ImGui::EndPopup().
bool beginQuestion(const Ui& ui, const char* title, float breadth) {
  const ImVec2 display = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos({display.x / 2, display.y / 2}, ImGuiCond_Always, {0.5F, 0.5F});
  ImGui::SetNextWindowSize({breadth, 0});
  constexpr ImGuiWindowFlags flags =
      ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoTitleBar;
  if (!ImGui::BeginPopupModal(title, nullptr, flags)) return false;
  const std::string_view words(title);
  heading(ui, std::string(words.substr(0, words.find("###"))).c_str());
  return true;
}

// Opens the question while there is a reason, unless another question is open.
void openWhile(bool reason, const char* title) {
  if (reason && !ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId)) ImGui::OpenPopup(title);
}

// A button that answers the question. `key`: true where a key answers it, too.
bool answer(const char* word, bool key = false) {
  const bool pressed = ImGui::Button(word) || key;
  if (pressed) ImGui::CloseCurrentPopup();
  return pressed;
}

}  // namespace

void Questions::askWhereToSave(const app::State& state) {
  asks_where_ = true;
  to_replace_.reset();
  const fs::path folder = !state.path.empty()     ? state.path.parent_path()
                          : !state.recent.empty() ? state.recent.front().parent_path()
                                                  : fs::path();
  std::string name = state.path.filename().string();
  if (name.empty() && state.hasPlan()) name = state.plan().title + ".toml";
  chooser_.begin(folder, name);
}

void Questions::drawWhereToSave(const Ui& ui, app::Actions& actions) {
  openWhile(asks_where_, where);
  if (!beginQuestion(ui, where, 520 * ui.scale)) return;
  asks_where_ = false;
  if (const auto file = chooser_.draw(ui, 300 * ui.scale, true)) {
    std::error_code error;
    if (fs::exists(*file, error)) {
      to_replace_ = file;
    } else {
      actions.emplace_back(app::SaveAs{*file, false});
      ImGui::CloseCurrentPopup();
    }
  }
  if (to_replace_) {
    ImGui::TextWrapped("%s is there already.", to_replace_->filename().c_str());
    if (answer("Replace it")) actions.emplace_back(app::SaveAs{*to_replace_, true});
    ImGui::SameLine();
  }
  if (answer("Don't save", ui.wasPressedAnyhow(GLFW_KEY_ESCAPE))) leaves_when_saved_ = false;
  ImGui::EndPopup();
}

void Questions::askBeforeLeaving(Leaving to) {
  asks_before_leaving_ = true;
  leaving_ = std::move(to);
}

void Questions::leave(app::Actions& actions) {
  // Where the other plan can't be read, the open plan stays open.
  if (!leaving_.plan.empty())
    actions.emplace_back(app::OpenPlan{leaving_.plan});
  else
    actions.emplace_back(app::ClosePlan{});
  agreed_tables_ = std::exchange(leaving_.tables, {});
  may_leave_ = leaving_.closes_window;
  asks_before_leaving_ = leaves_when_saved_ = false;
}

void Questions::drawLeaving(const app::State& state, const Ui& ui, app::Actions& actions) {
  const bool saved = !state.changed();
  const bool is_new_wall = !leaving_.tables.empty();
  if (saved && (leaves_when_saved_ || (asks_before_leaving_ && !is_new_wall))) return leave(actions);
  const char* const title = saved ? new_wall : leaving;
  openWhile(asks_before_leaving_, title);
  if (!beginQuestion(ui, title, ImGui::GetFontSize() * 26)) return;
  asks_before_leaving_ = false;
  if (is_new_wall)
    ImGui::TextWrapped("%s can be laid out as a new wall.", leaving_.tables.front().filename().c_str());
  const char* const name = state.hasPlan() ? state.plan().title.c_str() : "";
  if (saved)
    ImGui::TextWrapped("\"%s\" is saved, and stays as it is.", name);
  else
    ImGui::TextWrapped("What you did to \"%s\" since the last save would be gone.", name);
  drawLeavingAnswers(state, ui, actions);
  ImGui::EndPopup();
}

void Questions::drawLeavingAnswers(const app::State& state, const Ui& ui, app::Actions& actions) {
  const bool saved = !state.changed();
  if (!saved && answer("Save first")) {
    leaves_when_saved_ = true;
    if (state.path.empty())
      askWhereToSave(state);
    else
      actions.emplace_back(app::Save{});
  }
  if (!saved) ImGui::SameLine();
  if (answer(saved ? "Start a new wall" : "Go on without saving")) leave(actions);
  ImGui::SameLine();
  if (answer("Stay", ui.wasPressed(GLFW_KEY_ESCAPE))) leaving_ = {};
}

void Questions::drawFound(const app::State& state, const Ui& ui, app::Actions& actions) {
  openWhile(state.found.has_value(), found);
  if (!beginQuestion(ui, found, ImGui::GetFontSize() * 26)) return;
  if (!state.found) {
    ImGui::CloseCurrentPopup();
    return ImGui::EndPopup();
  }
  ImGui::TextWrapped("\"%s\" was being worked on when the program ended. It can go on from there.",
                     state.found->plan->plan.title.c_str());
  remark(ui, state.found->path.empty() ? std::string("It was never saved.")
                                       : state.found->path.filename().string());
  help(state.found->path.c_str());
  if (!state.found->remark.empty()) ImGui::TextWrapped("%s", state.found->remark.c_str());
  if (answer("Take it up")) actions.emplace_back(app::TakeUpFoundWork{true});
  ImGui::SameLine();
  if (answer("Throw it away")) actions.emplace_back(app::TakeUpFoundWork{false});
  ImGui::EndPopup();
}

void Questions::drawChangedOnDisk(const app::State& state, const Ui& ui, app::Actions& actions) {
  openWhile(state.changed_on_disk, on_disk);
  if (!beginQuestion(ui, on_disk, ImGui::GetFontSize() * 32)) return;
  if (!state.changed_on_disk) {
    ImGui::CloseCurrentPopup();
    return ImGui::EndPopup();
  }
  ImGui::TextWrapped("%s is on the disk as another program left it, not as it was read or saved here.",
                     state.path.filename().c_str());
  if (answer("Read the other version")) actions.emplace_back(app::ReadAgain{});
  ImGui::SameLine();
  if (answer("Overwrite it with mine")) actions.emplace_back(app::SaveAs{state.path, true});
  ImGui::SameLine();
  if (answer("Save mine elsewhere")) askWhereToSave(state);
  ImGui::EndPopup();
}

void Questions::drawProblems(const app::State& state, const Ui& ui, app::Actions& actions) {
  const char* const title = state.unread.empty() ? undone : unreadable;
  openWhile(!state.problems.empty(), title);
  if (!beginQuestion(ui, title, 640 * ui.scale)) return;
  if (state.problems.empty()) {
    ImGui::CloseCurrentPopup();
    return ImGui::EndPopup();
  }
  ImGui::BeginChild("problems", {0, 260 * ui.scale});
  for (const Problem& problem : state.problems) {
    const Place& place = problem.place;
    const std::string file = fs::path(place.file).filename().string();
    const ImVec4 colour = ImGui::ColorConvertU32ToFloat4(ui.theme.warm);
    if (place.line > 0)
      ImGui::TextColored(colour, "%s line %d, column %d", file.c_str(), place.line, place.column);
    else if (!file.empty())
      ImGui::TextColored(colour, "%s", file.c_str());
    ImGui::TextWrapped("%s", problem.message.c_str());
    ImGui::Dummy({0, 3 * ui.scale});
  }
  ImGui::EndChild();
  if (state.found) ImGui::TextWrapped("Work that wasn't saved was found: the next question is about it.");
  if (!state.unread.empty()) {
    if (answer("Read it again")) actions.emplace_back(app::OpenPlan{state.unread});
    help("When you have put it right in an editor");
    ImGui::SameLine();
  }
  if (answer("Seen", ui.wasPressed(GLFW_KEY_ESCAPE))) actions.emplace_back(app::Dismiss{});
  ImGui::EndPopup();
}

void Questions::drawHelp(const Ui& ui) {
  openWhile(asks_help_, help_title);
  // A page of the manual has room for 90 letters in a line, and for as many lines as the window.
  const ImVec2 display = ImGui::GetIO().DisplaySize;
  if (!beginQuestion(ui, help_title, std::min(display.x - 40 * ui.scale, 1080 * ui.scale))) return;
  asks_help_ = false;
  manual_.draw(ui, {0, display.y - 150 * ui.scale});
  answer("Back to the wall", ui.wasPressed(GLFW_KEY_ESCAPE));
  ImGui::EndPopup();
}

app::Actions Questions::draw(const app::State& state, const Ui& ui) {
  app::Actions actions;
  drawProblems(state, ui, actions);
  drawFound(state, ui, actions);
  drawChangedOnDisk(state, ui, actions);
  drawLeaving(state, ui, actions);
  drawWhereToSave(ui, actions);
  drawHelp(ui);
  return actions;
}

}  // namespace petalproof::window
