#include "engine/report/internal/shot_words.h"

#include "engine/base/length_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::report {
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

// A focal length in the shot's own terms: as it is, or as its full-frame equivalent.
std::string longerLensWords(const check::ShotCheck& shot, double lens_mm) {
  return fmt::format("with a lens of {:.0f} mm{} or longer", std::ceil(lens_mm - 1e-9),
                     shot.shot.lens.full_frame_equivalent ? " equivalent" : "");
}

// As tapeText, but inches in sixteenths: a blur is smaller than any piece of paper that is cut.
std::string fineTapeText(double mm, Units units) {
  if (units != Units::inch) return tapeText(mm, units);
  const int sixteenths = static_cast<int>(std::lround(std::min(mm / 25.4, 1e6) * 16));
  if (sixteenths == 0) return "under 1/16 in";
  if (sixteenths % 2 == 0) return tapeText(sixteenths / 16.0 * 25.4, units);
  const int whole = sixteenths / 16;
  return whole == 0 ? fmt::format("{}/16 in", sixteenths)
                    : fmt::format("{} {}/16 in", whole, sixteenths % 16);
}

bool isControl(char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }

}  // namespace

std::string headingOf(const plan::Shot& shot) {
  return onOneLine(shot.label.empty() ? shot.name : shot.name + ": " + shot.label);
}

std::string lensWords(const check::ShotCheck& shot) {
  const plan::FocalLength& lens = shot.shot.lens;
  const std::string_view equivalent = lens.full_frame_equivalent ? " equivalent" : "";
  if (!lens.to_mm) return fmt::format("{:g} mm{} at f/{:g}", lens.mm, equivalent, shot.shot.aperture);
  return fmt::format("{:g} mm{}, the worse end of {:g}-{:g} mm, at f/{:g}", shot.lens.mm, equivalent, lens.mm,
                     *lens.to_mm, shot.shot.aperture);
}

std::string focusWords(const check::ShotCheck& shot, Units units) {
  const camera::DepthOfField& sharp = shot.focus.sharp;
  if (!(sharp.near_mm > 0)) return "";
  const std::string near = walkText(sharp.near_mm, units);
  const std::string far = sharp.far_mm ? walkText(*sharp.far_mm, units) : "";
  std::string words = shot.shot.people.empty() ? "sharp " : "eyes sharp ";
  if (near == far)
    words += fmt::format("at {} only", near);
  else
    words += fmt::format("from {} {}", near, far.empty() ? "on" : "to " + far);
  if (!shot.focus.wall_is_seen) return words;
  if (shot.focus.wall_spread_mm == 0) return words + "; the wall is in focus";
  return words + "; a point of the wall spreads to " + fineTapeText(shot.focus.wall_spread_mm, units);
}

std::string viewingWords(const check::ShotCheck& shot, Units units) {
  const std::optional<plan::LookedAt>& looked = shot.shot.looked_at;
  const double height_mm = shot.viewing.width_mm * shot.camera.height_px / std::max(shot.camera.width_px, 1);
  std::string how = looked ? looked->name : "a print in the hand (the plan doesn't say)";
  if (how == "phone" || how == "laptop") how = "a " + how;
  if (how == "album") how = "an album's page";
  return fmt::format("{}{}{} x {}, seen from {}", how, how.empty() ? "" : ", ",
                     tapeText(shot.viewing.width_mm, units), tapeText(height_mm, units),
                     tapeText(shot.viewing.distance_mm, units));
}

std::string unsharpWords(const check::ShotCheck& shot, Units units) {
  constexpr std::size_t most = 4;  // names: a table's line has room for them
  std::vector<std::string> who;
  for (const camera::UnsharpEyes& eyes : shot.focus.unsharp)
    who.push_back(fmt::format("person {}, {} away", eyes.person + 1, walkText(eyes.distance_mm, units)));
  if (who.empty()) return "";
  const std::size_t unnamed = who.size() - std::min(who.size(), most);
  who.resize(who.size() - unnamed);
  return fmt::format("the eyes of {}{} are not sharp", fmt::join(who, "; "),
                     unnamed == 0 ? "," : fmt::format(" and {} more", unnamed));
}

std::string sensorWords(const plan::Shot& shot) {
  const std::string sensor = shot.sensor.name.empty()
                                 ? fmt::format("{:g} x {:g} mm", shot.sensor.width_mm, shot.sensor.height_mm)
                                 : shot.sensor.name;
  return shot.upright ? sensor + ", upright" : sensor;
}

std::string distanceWords(const plan::Shot& shot, Units units) {
  return walkText(toMillimetres(shot.camera_out, units), units) + " from the board";
}

std::string pictureSizeWords(const check::ShotCheck& shot) {
  std::string words = fmt::format("{} x {} pixels", shot.camera.width_px, shot.camera.height_px);
  if (shot.shot.crop)
    words += fmt::format(", cropped {:g} : {:g}", shot.shot.crop->width, shot.shot.crop->height);
  return words;
}

std::string offWallWords(const camera::OffWall& off, Units units) {
  std::vector<std::string> sides;
  addSide(sides, "left", off.left_mm, units);
  addSide(sides, "right", off.right_mm, units);
  addSide(sides, "top", off.top_mm, units);
  addSide(sides, "bottom", off.bottom_mm, units);
  return fmt::format("{}", fmt::join(sides, ", "));
}

std::string remedyWords(const check::ShotCheck& shot, Units units) {
  std::vector<std::string> ways;
  if (shot.remedy.camera_out_mm) {
    ways.push_back(fmt::format("with the camera no farther than {} from the board",
                               walkText(floorToTape(*shot.remedy.camera_out_mm, units), units)));
  }
  if (shot.remedy.lens_mm) ways.push_back(longerLensWords(shot, *shot.remedy.lens_mm));
  return fmt::format("{}", fmt::join(ways, ", or "));
}

std::string roomWords(const camera::RoomForPeople& room, Units units) {
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

std::string counted(std::int64_t count, std::string_view singular, std::string_view plural) {
  return fmt::format("{} {}", count, count == 1 ? singular : plural);
}

std::string onOneLine(std::string_view text) {
  std::string line(text);
  std::replace_if(line.begin(), line.end(), isControl, ' ');
  return line;
}

}  // namespace petalproof::report
