#include "viewer/window/panels/plan_page.h"

#include "engine/plan/plan_defaults.h"

#include <string>
#include <vector>

namespace petalproof::window {
void PlanPage::drawCopies(const app::State& state, const Ui& ui, app::Actions& actions) {
  heading(ui, "How copies of a bloom differ");
  const plan::Plan& plan = state.plan();
  const float width = 62 * ui.scale;
  if (const auto variation = fields_.number("as much as usual", plan.variation, 2, width))
    actions.emplace_back(app::Edit{app::SetCopies{plan.seed, *variation}});
  help("0: every copy exactly as its kind says; 1: as made by practised hands; 5 at most");
  if (const auto seed = fields_.count("seed", plan.seed, width))
    actions.emplace_back(app::Edit{app::SetCopies{*seed, plan.variation}});
  help("Another number: other small differences, as if the blooms were made once more");
}

void PlanPage::drawReading(const app::State& state, const Ui& ui, app::Actions& actions) {
  heading(ui, "From when a hole shows");
  plan::ReadingThresholds reading = state.plan().reading;
  const float width = 52 * ui.scale;
  if (const auto faint = fields_.number("faint from", reading.faint, 2, width)) {
    reading.faint = *faint;
    actions.emplace_back(app::Edit{app::SetReading{reading}});
  }
  ImGui::SameLine();
  const auto share = [&](const char* label, double& of) {
    constexpr double percent = 100;
    if (const auto typed = fields_.number(label, of * percent, 2, width, {"%"})) {
      of = *typed / percent;
      actions.emplace_back(app::Edit{app::SetReading{reading}});
    }
  };
  share("odd, %", reading.odd_faint);
  ImGui::SameLine();
  share("very odd, %", reading.odd_shows);
  remark(ui,
         "Faint from: colour difference in the picture as it is looked at; 2.3 is the least that anybody "
         "sees. Odd: a hole is faint, or shows, that stands out more than so many of a hundred pieces of "
         "the wall's own paper.");
}

void PlanPage::drawHands(const app::State& state, const Ui& ui, app::Actions& actions) {
  heading(ui, "How sure the hands are");
  const plan::Plan& plan = state.plan();
  bool known = plan.hands.has_value();
  if (ImGui::Checkbox("hands differ from the plan", &known))
    actions.emplace_back(
        app::Edit{app::SetHands{known ? std::optional(plan::defaultHands(plan.units)) : std::nullopt}});
  help("Then fillers are found that hide the gaps in most walls that such hands would make.");
  if (!plan.hands) return;
  plan::Hands hands = *plan.hands;
  const float width = 62 * ui.scale;
  const auto change = [&] { actions.emplace_back(app::Edit{app::SetHands{hands}}); };
  const auto number = [&](const char* label, double& of, double per, const char* words) {
    if (const auto typed = fields_.number(label, of * per, 2, width, {"%", "\u00b0", "degrees"})) {
      of = *typed / per;
      change();
    }
    help(words);
  };
  const auto length = [&](const char* label, Length& of, const char* words) {
    if (const auto typed = fields_.length(label, of, plan.units, width)) {
      of = *typed;
      change();
    }
    help(words);
  };
  constexpr double percent = 100;
  number("size of a bloom, %", hands.bloom_size, percent, "One standard deviation, as all of these");
  number("how far it stands out, %", hands.bloom_depth, percent, "Curls relax");
  length("where it sits", hands.place, "Freehand about 1/2 in, with a template half of that");
  number("turn of leaves, degrees", hands.turn_deg, 1, "Round blooms come in any turn");
  length("where a panel hangs", hands.hang, "Across and up");
  length("step between panels", hands.step, "Out from its neighbours: foam board bows");
}

app::Actions PlanPage::draw(const app::State& state, const Ui& ui) {
  app::Actions actions;
  const plan::Plan& plan = state.plan();
  const float width = ImGui::GetContentRegionAvail().x - 96 * ui.scale;
  if (const auto title = fields_.text("title", plan.title, width))
    actions.emplace_back(app::Edit{app::SetTitle{*title}});
  static const std::vector<std::string> units{"inches", "centimetres", "millimetres"};
  if (const auto picked = choice("measured in", units, static_cast<int>(plan.units), width))
    actions.emplace_back(app::Edit{app::SetUnits{static_cast<Units>(*picked)}});
  help("Every length of the plan, written in that unit; nothing moves. Lens and sensor are always in mm.");
  drawReading(state, ui, actions);
  drawHands(state, ui, actions);
  drawCopies(state, ui, actions);
  return actions;
}

}  // namespace petalproof::window
