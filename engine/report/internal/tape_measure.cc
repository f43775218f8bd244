#include "engine/report/internal/tape_measure.h"

#include "engine/base/length_text.h"
#include "engine/report/internal/sheet.h"

#include <array>
#include <cmath>

namespace petalproof::report {
namespace {

constexpr double gap_px = 6;
constexpr double long_tick_px = 12;
constexpr double short_tick_px = 6;

TextStyle numberStyle(Align align) { return {16, Face::sans, sheet_ink, align, 0}; }

void drawTick(Drawing& drawing, glm::dvec2 at, glm::dvec2 out, double length) {
  const std::array<glm::dvec2, 2> tick{at, at + out * length};
  drawing.line(tick, {1.4, sheet_ink, 1, {}});
}

void drawAcross(Drawing& drawing, const PixelRect& picture, double wall_mm, Units units) {
  const double px_per_mm = picture.width / wall_mm;
  const double step = tapeStepMm(px_per_mm, units);
  const double y = picture.top - gap_px;
  const std::array<glm::dvec2, 2> edge{glm::dvec2(picture.left, y), glm::dvec2(picture.right(), y)};
  drawing.line(edge, {1.4, sheet_ink, 1, {}});
  for (int k = 0; k * step / 2 <= wall_mm; ++k) {
    const double x = picture.left + k * step / 2 * px_per_mm;
    drawTick(drawing, {x, y}, {0, -1}, k % 2 == 0 ? long_tick_px : short_tick_px);
    if (k % 2 != 0) continue;
    const std::string number = tapeNumber(k * step / 2, units);
    const double height = drawing.extentOf(number, numberStyle(Align::middle)).height;
    drawing.text(number, numberStyle(Align::middle), {x, y - long_tick_px - height - 1});
  }
}

void drawDown(Drawing& drawing, const PixelRect& picture, double wall_mm, Units units) {
  const double px_per_mm = picture.height / wall_mm;
  const double step = tapeStepMm(px_per_mm, units);
  const double x = picture.left - gap_px;
  const std::array<glm::dvec2, 2> edge{glm::dvec2(x, picture.top), glm::dvec2(x, picture.bottom())};
  drawing.line(edge, {1.4, sheet_ink, 1, {}});
  for (int k = 0; k * step / 2 <= wall_mm; ++k) {
    const double y = picture.top + k * step / 2 * px_per_mm;
    drawTick(drawing, {x, y}, {-1, 0}, k % 2 == 0 ? long_tick_px : short_tick_px);
    if (k % 2 != 0) continue;
    const std::string number = tapeNumber(k * step / 2, units);
    const double height = drawing.extentOf(number, numberStyle(Align::right)).height;
    drawing.text(number, numberStyle(Align::right), {x - long_tick_px - 4, y - height / 2});
  }
}

}  // namespace

double tapeStepMm(double px_per_mm, Units units, double least_px) {
  static constexpr std::array<double, 5> inches{1, 2, 4, 6, 12};
  static constexpr std::array<double, 4> tens{1, 2, 5, 10};
  const double unit = units == Units::inch ? 25.4 : 10.0;
  const auto bigEnough = [&](double step) { return step * unit * px_per_mm >= least_px; };
  if (units == Units::inch) {
    for (const double step : inches) {
      if (bigEnough(step)) return step * unit;
    }
    double feet = 2;
    while (!bigEnough(12 * feet) && feet < 1e9) feet *= 2;
    return 12 * feet * unit;
  }
  for (double scale = 1; scale < 1e9; scale *= 10) {
    for (const double step : tens) {
      if (bigEnough(step * scale)) return step * scale * unit;
    }
  }
  return 1e10;
}

void drawTapes(Drawing& drawing, const PixelRect& picture, glm::dvec2 wall_mm, Units units) {
  drawAcross(drawing, picture, wall_mm.x, units);
  drawDown(drawing, picture, wall_mm.y, units);
  const std::string unit(unitName(units));
  const TextStyle style{16, Face::sans, sheet_grey, Align::right, 0};
  drawing.text(unit, style, {picture.left - gap_px - long_tick_px - 4, picture.top - 38});
}

}  // namespace petalproof::report
