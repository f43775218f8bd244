#include "viewer/window/panels/first_questions.h"

#include <algorithm>
#include <cmath>

namespace petalproof::window {
namespace {

// Converts the answers to another unit, rounded to whole numbers.
void convert(app::Answers& answers, Units to) {
  const double ratio = millimetresPer(answers.units) / millimetresPer(to);
  const double whole = to == Units::millimetre ? 10 : 1;  // a centimetre, in millimetres
  for (Length* length : {&answers.panel.width, &answers.panel.height, &answers.wall.width,
                         &answers.wall.height, &answers.free_floor})
    length->value = std::round(length->value * ratio / whole) * whole;
  answers.units = to;
}

// Draws a palette's colours in a row and its name; true where it was pressed.
bool drawColours(const Ui& ui, const app::Palette& palette, bool chosen) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float side = ImGui::GetTextLineHeight();
  const bool pressed = ImGui::Selectable("##palette", chosen, 0, {0, side});
  ImDrawList& list = *ImGui::GetWindowDrawList();
  float x = at.x + 2 * ui.scale;
  std::vector<Colour> colours = palette.blooms;
  colours.push_back(palette.green);
  for (const Colour colour : colours) {
    list.AddCircleFilled({x + side / 2, at.y + side / 2}, side * 0.46F,
                         IM_COL32(colour.red, colour.green, colour.blue, 255));
    list.AddCircle({x + side / 2, at.y + side / 2}, side * 0.46F, faded(ui.theme.faint, 0.4F));
    x += side * 1.1F;
  }
  drawText(list, ui.fonts.text, ui.theme.ink, {x + 8 * ui.scale, at.y}, palette.name);
  return pressed;
}

}  // namespace

bool FirstQuestions::drawUnits(const Ui& ui, app::Answers& answers) {
  static const std::vector<std::string> names{"inches", "centimetres", "millimetres"};
  const auto picked = choice("is what I measure in", names, static_cast<int>(answers.units), 130 * ui.scale);
  if (picked) convert(answers, static_cast<Units>(*picked));
  return picked.has_value();
}

bool FirstQuestions::drawSizes(const Ui& ui, app::Answers& answers, const std::string& comes_to) {
  bool changed = false;
  const auto length = [&](const char* label, Length& of) {
    const auto typed = fields_.length(label, of, answers.units, 64 * ui.scale);
    if (!typed || typed->value <= 0) return;
    of = *typed;
    changed = true;
  };
  const auto hung = [&](const char* words, bool frame) {
    if (!ImGui::RadioButton(words, answers.frame == frame) || answers.frame == frame) return;
    answers.frame = frame;
    changed = true;
  };
  heading(ui, "1  How wide and high is a panel?");
  length("wide##panel", answers.panel.width);
  ImGui::SameLine(0, 18 * ui.scale);
  length("high##panel", answers.panel.height);
  heading(ui, "2  What does it hang on?");
  hung("a frame", true);
  ImGui::SameLine(0, 18 * ui.scale);
  hung("a solid wall", false);
  heading(ui, "3  How large is the wall to be, about?");
  length("wide##wall", answers.wall.width);
  ImGui::SameLine(0, 18 * ui.scale);
  length("high##wall", answers.wall.height);
  // As high as its longest text, so that the fields below don't move.
  const float below = ImGui::GetCursorPosY() + 4 * ImGui::GetTextLineHeight();
  remark(ui, comes_to.empty() ? std::string(" ") : "comes to " + comes_to);
  ImGui::SetCursorPosY(std::max(ImGui::GetCursorPosY(), below));
  heading(ui, "4  How much free floor is there in front?");
  length("from the wall", answers.free_floor);
  return changed;
}

bool FirstQuestions::drawPalette(const Ui& ui, app::Answers& answers) {
  heading(ui, "Palette");
  bool changed = false;
  const auto palettes = app::palettes();
  for (std::size_t k = 0; k < palettes.size(); ++k) {
    const auto number = static_cast<int>(k);
    ImGui::PushID(number);
    if (drawColours(ui, palettes[k], answers.palette == number) && answers.palette != number) {
      answers.palette = number;
      changed = true;
    }
    ImGui::PopID();
  }
  return changed;
}

bool FirstQuestions::drawRecipe(const Ui& ui, app::Answers& answers) {
  heading(ui, "Blooms on one panel");
  bool changed = false;
  const float left = ImGui::GetCursorPosX();
  const auto count = [&](const char* label, int& of) {
    ImGui::SetNextItemWidth(92 * ui.scale);
    int to = of;
    if (!ImGui::InputInt(label, &to)) return;
    constexpr int most_blooms = 60;  // of a size, on a panel
    to = std::clamp(to, 0, most_blooms);
    changed = changed || to != of;
    of = to;
  };
  const float second = left + 166 * ui.scale;
  count("large", answers.large);
  ImGui::SameLine(second);
  count("medium", answers.medium);
  count("small", answers.small);
  ImGui::SameLine(second);
  count("greenery", answers.green);
  return changed;
}

bool FirstQuestions::draw(const Ui& ui, app::Answers& answers, const std::string& comes_to) {
  bool changed = drawUnits(ui, answers);
  changed = drawSizes(ui, answers, comes_to) || changed;
  changed = drawPalette(ui, answers) || changed;
  return drawRecipe(ui, answers) || changed;
}

}  // namespace petalproof::window
