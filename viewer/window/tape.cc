#include "viewer/window/tape.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::window {
namespace {

constexpr double least_apart_px = 34;  // between two numbers, at 96 dots an inch
constexpr double rounding_mm = 1e-6;   // the last tick may lie this far beyond the end

// The number of parts into which ticks divide the distance between two numbers.
int partsBetween(Units units) { return units == Units::inch ? 4 : 5; }

// Along the tape, and from the wall's edge outwards.
ImVec2 onTape(const TapeLine& tape, float along, float outwards) {
  return tape.across ? ImVec2(along, tape.area.max.y - outwards) : ImVec2(tape.area.max.x - outwards, along);
}

void drawNumber(ImDrawList& list, const Ui& ui, const TapeLine& tape, float along, double mm) {
  const std::string number = numberOnTape(mm, tape.units);
  const float out = 9 * ui.scale;
  const ImVec2 at = onTape(tape, along, out);
  if (tape.across) {
    drawText(list, ui.fonts.small, ui.theme.tape_ink, at, number, 0.5F, 1);
  } else {
    drawText(list, ui.fonts.small, ui.theme.tape_ink, at, number, 1, 0.5F);
  }
}

}  // namespace

std::string numberOnTape(double mm, Units units) {
  return std::to_string(std::llround(mm / millimetresPer(units)));
}

double tapeStepMm(double px_per_mm, Units units, double least_px) {
  static constexpr std::array<double, 5> inches{1, 2, 4, 6, 12};
  static constexpr std::array<double, 3> tens{1, 2, 5};
  const double unit = units == Units::inch ? 25.4 : 10.0;
  constexpr double most_steps = 1e6;  // ends the search for scales beyond any wall
  const auto isLongEnough = [&](double step) { return step * unit * px_per_mm >= least_px; };
  if (units == Units::inch) {
    for (const double step : inches)
      if (isLongEnough(step)) return step * unit;
    double feet = 2;
    while (!isLongEnough(12 * feet) && feet < most_steps) feet *= 2;
    return 12 * feet * unit;
  }
  double scale = 1;
  while (scale < most_steps) {
    for (const double step : tens)
      if (isLongEnough(step * scale)) return step * scale * unit;
    scale *= 10;
  }
  return scale * unit;
}

float sideTapeWidth(double length_mm, Units units) {
  constexpr float for_three_digits = 34;  // with a tick
  constexpr float digit = 8;
  float width = for_three_digits;
  for (double most = 1000; length_mm / millimetresPer(units) >= most; most *= 10) width += digit;
  return width;
}

void drawTape(ImDrawList& list, const Ui& ui, const TapeLine& tape) {
  const float from = tape.zero;
  const float to = tape.zero + static_cast<float>(tape.length_mm * tape.px_per_mm);
  const float low = tape.across ? tape.area.min.x : tape.area.min.y;
  const float high = tape.across ? tape.area.max.x : tape.area.max.y;
  const float start = std::max(from, low);
  const float end = std::min(to, high);
  if (end <= start) return;
  const float wide = tape.across ? tape.area.height() : tape.area.width();
  const ImVec2 a = onTape(tape, start, wide);
  const ImVec2 b = onTape(tape, end, 0);
  list.PushClipRect(tape.area.min, tape.area.max, true);
  list.AddRectFilled({std::min(a.x, b.x), std::min(a.y, b.y)}, {std::max(a.x, b.x), std::max(a.y, b.y)},
                     ui.theme.tape);
  const double step = tapeStepMm(tape.px_per_mm, tape.units, least_apart_px * ui.scale);
  const int ticks = partsBetween(tape.units);
  const auto first = static_cast<int>(std::floor((start - from) / tape.px_per_mm / step)) * ticks;
  for (int k = std::max(first, 0);; ++k) {
    const double mm = step * k / ticks;
    if (mm > tape.length_mm + rounding_mm) break;
    const float along = std::round(from + static_cast<float>(mm * tape.px_per_mm));
    if (along > end + 1) break;
    const float tick = (k % ticks == 0 ? 7.0F : 3.5F) * ui.scale;
    list.AddLine(onTape(tape, along, 0), onTape(tape, along, tick), ui.theme.tape_ink);
    if (k % ticks == 0) drawNumber(list, ui, tape, along, mm);
  }
  list.AddLine(onTape(tape, start, 0), onTape(tape, end, 0), ui.theme.tape_ink);
  list.PopClipRect();
}

}  // namespace petalproof::window
