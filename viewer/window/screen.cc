#include "viewer/window/screen.h"

#include "viewer/window/screen_layout.h"
#include "viewer/window/shortcuts.h"
#include "viewer/window/top_bar.h"

#include <GLFW/glfw3.h>

#include <iterator>
#include <utility>

namespace petalproof::window {
namespace {

void add(app::Actions& actions, app::Actions added) {
  actions.insert(actions.end(), std::make_move_iterator(added.begin()), std::make_move_iterator(added.end()));
}

bool isArrow(const KeyPress& press) {
  return press.key == GLFW_KEY_LEFT || press.key == GLFW_KEY_RIGHT || press.key == GLFW_KEY_UP ||
         press.key == GLFW_KEY_DOWN;
}

}  // namespace

app::Actions Screen::draw(const app::State& state, const Ui& ui, const Events& events) {
  app::Actions actions;
  const ScreenLayout layout = layOutScreen(ImGui::GetIO().DisplaySize, ui.scale);
  ImGui::GetBackgroundDrawList()->AddRectFilled({0, 0}, ImGui::GetIO().DisplaySize, ui.theme.table);
  add(actions, desk_.take(state, events.dropped));
  if (events.wants_to_close) desk_.wantsToClose();
  add(actions, drawTopBar(state, ui, layout.top));
  if (state.hasPlan()) {
    pictures_.follow(state);
    followGap(state);
    add(actions, drawMain(state, ui, layout.main));
    add(actions, prints_.draw(state, ui, layout.prints, pictures_, !mainWantsFrame(state)));
    add(actions, floor_plan_.draw(state, ui, layout.floor_plan));
  }
  add(actions, desk_.draw(state, ui, layout.notes, {layout.main.min, layout.notes.max}, pictures_));
  add(actions, shortcutActions(state, keysForTheWall(state, ui.keys)));
  return desk_.asked(state, std::move(actions));
}

// The keys that are shortcuts for the wall. Once the person entered the widgets, keys walk through these;
// Escape, the end of a question and another plan bring them back to the wall.
std::vector<KeyPress> Screen::keysForTheWall(const app::State& state, std::vector<KeyPress> keys) {
  const bool asking = ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
  const auto isEscape = [](const KeyPress& press) { return press.key == GLFW_KEY_ESCAPE; };
  const bool is_elsewhere = in_widgets_ || floor_plan_.hasKeys();
  const bool escapes = state.hasPlan() && is_elsewhere && !asking && std::erase_if(keys, isEscape) > 0;
  if (floor_plan_.hasKeys()) std::erase_if(keys, isArrow);
  const bool answered = was_asking_ && !asking;
  const bool came = state.hasPlan() && !had_plan_;
  if (escapes || (state.hasPlan() && answered) || came) ImGui::SetWindowFocus(nullptr);
  in_widgets_ = ImGui::GetIO().NavActive;
  was_asking_ = asking;
  had_plan_ = state.hasPlan();
  return keys;
}

app::Actions Screen::drawMain(const app::State& state, const Ui& ui, const Area& area) {
  // Drawn first: Dear ImGui shows the window that is begun first in front.
  app::Actions actions = drawViewChoices(state, ui, area);
  switch (state.view.main) {
    case app::MainView::wallDrawing: add(actions, wall_drawing_.draw(state, ui, area, pictures_)); break;
    case app::MainView::walkAround: walk_.draw(state, ui, area, pictures_); break;
    case app::MainView::throughLens: lens_.draw(state, ui, area, pictures_); break;
  }
  return actions;
}

// Flies to a gap that was just chosen.
void Screen::followGap(const app::State& state) {
  // Another plan is shown whole; a plan saved under another name, or read again, keeps its view.
  const bool opened = std::exchange(opened_, state.opened_revision) != state.opened_revision;
  const bool elsewhere = std::exchange(shown_path_, state.path) != state.path || state.path.empty();
  if (opened && elsewhere) {
    wall_drawing_.fit();
    walk_ = {};
  }
  if (std::exchange(shown_gaps_, state.gap_choices) == state.gap_choices) return;
  if (!state.gap || !pictures_.hasWall()) return;
  const gaps::Gap* const gap = app::gapOf(state, *state.gap);
  if (gap == nullptr) return;
  wall_drawing_.lookAt(gap->centre_mm);
  walk_.standBefore(gap->centre_mm, pictures_.scene().panels);
}

bool Screen::mainWantsFrame(const app::State& state) const {
  switch (state.view.main) {
    case app::MainView::wallDrawing: return wall_drawing_.wantsFrame();
    case app::MainView::walkAround: return walk_.wantsFrame();
    case app::MainView::throughLens: return lens_.wantsFrame();
  }
  return false;
}

bool Screen::isMoving(const app::State& state) const {
  if (!state.hasPlan()) return false;
  return (state.view.main == app::MainView::wallDrawing && wall_drawing_.isMoving()) ||
         (state.view.main == app::MainView::walkAround && walk_.isMoving());
}

bool Screen::wantsFrame(const app::State& state) const {
  if (!state.hasPlan()) return desk_.wantsFrame();
  return pictures_.hasWall() && (mainWantsFrame(state) || prints_.wantsFrame());
}

}  // namespace petalproof::window
