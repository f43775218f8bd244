#include "engine/report/internal/shot_words.h"

#include "engine/base/length_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

// A distance rounded down to what a tape on the floor shows, so that keeping to it is enough.
double floorToTape(double mm, Units units) {
  const double step = units == Units::inch ? 25.4 : 10.0;
  return std::floor(mm / step + 1e-9) * step;
}

void addSide(std::vector<std::string>& sides, std::string_view name, std::optional<double> mm, Units units) {
  if (!mm) {
    sides.push_back(fmt::format("{} without end", name));
  } else if (*mm > 0) {
    sides.push_back(fmt::format("{} {}", name, tapeText(*mm, units)));
  }
}

// A longer lens in the words of the shot: of its own or by the full-frame equivalent.
std::string longerLensWords(const ShotCheck& shot, double lens_mm) {
  const bool equivalent = shot.shot.lens.full_frame_equivalent && shot.camera.focal_mm > 0;
  const double mm = equivalent ? lens_mm * shot.shot.lens.mm / shot.camera.focal_mm : lens_mm;
  return fmt::format("with a lens of {:.0f} mm{} or longer", std::ceil(mm - 1e-9),
                     equivalent ? " equivalent" : "");
}

bool isControl(char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }

}  // namespace

std::string headingOf(const Shot& shot) {
  return onOneLine(shot.label.empty() ? shot.name : shot.name + ": " + shot.label);
}

std::string lensWords(const Shot& shot) {
  return fmt::format("{:g} mm{} at f/{:g}", shot.lens.mm,
                     shot.lens.full_frame_equivalent ? " equivalent" : "", shot.aperture);
}

std::string sensorWords(const Shot& shot) {
  const std::string sensor = shot.sensor.name.empty()
                                 ? fmt::format("{:g} x {:g} mm", shot.sensor.width_mm, shot.sensor.height_mm)
                                 : shot.sensor.name;
  return shot.upright ? sensor + ", upright" : sensor;
}

std::string distanceWords(const Shot& shot, Units units) {
  return walkText(toMillimetres(shot.camera_out, units), units) + " from the board";
}

std::string pictureSizeWords(const ShotCheck& shot) {
  std::string words = fmt::format("{} x {} pixels", shot.camera.width_px, shot.camera.height_px);
  if (shot.shot.crop)
    words += fmt::format(", cropped {:g} : {:g}", shot.shot.crop->width, shot.shot.crop->height);
  return words;
}

std::string offWallWords(const OffWall& off, Units units) {
  std::vector<std::string> sides;
  addSide(sides, "left", off.left_mm, units);
  addSide(sides, "right", off.right_mm, units);
  addSide(sides, "top", off.top_mm, units);
  addSide(sides, "bottom", off.bottom_mm, units);
  return fmt::format("{}", fmt::join(sides, ", "));
}

std::string remedyWords(const ShotCheck& shot, Units units) {
  std::vector<std::string> ways;
  if (shot.remedy.camera_out_mm) {
    ways.push_back(fmt::format("with the camera no farther than {} from the board",
                               walkText(floorToTape(*shot.remedy.camera_out_mm, units), units)));
  }
  if (shot.remedy.lens_mm) ways.push_back(longerLensWords(shot, *shot.remedy.lens_mm));
  return fmt::format("{}", fmt::join(ways, ", or "));
}

std::string roomWords(const RoomForPeople& room, Units units) {
  const std::string where = tapeText(room.distance_from_board_mm, units) + " from the board";
  if (room.staggered == 0) return fmt::format("nobody {} without the outer edge behind them", where);
  return fmt::format("{} side by side or {} staggered, {}, before the outer edge shows", room.side_by_side,
                     room.staggered, where);
}

std::string percentText(double share) {
  const double percent = share * 100;
  if (percent > 0 && percent < 0.05) return "under 0.1 %";
  if (percent < 100 && percent >= 99.95) return "over 99.9 %";
  return fmt::format("{:.1f} %", percent);
}

std::string areaText(double mm2, Units units) {
  const bool inches = units == Units::inch;
  const double area = mm2 / (inches ? 25.4 * 25.4 : 100.0);
  if (area > 0 && area < 0.05) return inches ? "under 0.1 sq in" : "under 0.1 sq cm";
  return fmt::format("{:.1f} {}", area, inches ? "sq in" : "sq cm");
}

std::string counted(std::int64_t count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::string onOneLine(std::string_view text) {
  std::string line(text);
  std::replace_if(line.begin(), line.end(), isControl, ' ');
  return line;
}

}  // namespace petalproof
