#include "viewer/window/panels/advice_part.h"

#include "viewer/app/advised_edits.h"
#include "viewer/window/panels/fields.h"

namespace petalproof::window {
namespace {

void drawEdits(const app::State& state, const Ui& ui, app::Actions& actions) {
  int number = 0;
  for (const app::AdvisedEdit& advised : app::advisedEdits(state)) {
    remark(ui, advised.words);
    if (!advised.edit) continue;
    ImGui::PushID(number++);
    if (ImGui::Button("Try it")) actions.emplace_back(app::Edit{*advised.edit, 0});
    ImGui::PopID();
    help("One step, which can be undone");
  }
}

}  // namespace

void drawAdvice(const app::State& state, const Ui& ui, app::Actions& actions) {
  if (state.advising) {
    ImGui::ProgressBar(static_cast<float>(state.advising->share), {-1, 0}, "");
    remark(ui, state.advising->step);
    if (ImGui::Button("Stop looking")) actions.emplace_back(app::StopAdvising{});
    return;
  }
  if (ImGui::Button("What would help?")) actions.emplace_back(app::FindAdvice{});
  help("Tries changes of the shot, and other colours of the boards; it takes a while.");
  drawEdits(state, ui, actions);
}

}  // namespace petalproof::window
