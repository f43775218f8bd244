#include "viewer/window/panels/letter_buttons.h"

#include "viewer/window/panels/fields.h"

#include <algorithm>

namespace petalproof::window {

void letterButtons(const app::State& state, const Ui& ui, app::Actions& actions) {
  app::ViewChoices view = state.view;
  const float before = static_cast<float>(view.scale > 0 ? view.scale : ui.scale);
  constexpr float step = 0.125F;  // an eighth, as the main loop rounds scales
  // Beyond these, letters are hard to read or leave no room for the wall.
  constexpr float smallest = 0.75F;
  constexpr float largest = 3;
  const auto button = [&](const char* word, float by, const char* words) {
    if (ImGui::Button(word)) {
      view.scale = std::clamp(before + by, smallest, largest);
      actions.emplace_back(app::SetView{view});
    }
    help(words);
  };
  button("A-", -step, "Smaller letters");
  ImGui::SameLine();
  button("A+", step, "Larger letters");
}

}  // namespace petalproof::window
