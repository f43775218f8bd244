#include "engine/plan/default_shots.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace petalproof::plan {
namespace {

// Places of people and cameras, focal lengths and frame sizes: common practice, no source. All in mm.
constexpr double people_out_mm = 900;
constexpr double full_frame_long_mm = 36;
constexpr double full_frame_short_mm = 24;
constexpr double air_around_wall = 1.04;   // of the outline, so that its edge is just inside the frame
constexpr double shoulder_mm = 19 * 25.4;  // a person's place in a row
constexpr double eye_level_mm = 1550;

// The wall's measures in mm, and lengths of its unit from mm.
struct Setting {
  double width_mm = 0;
  double height_mm = 0;
  double above_floor_mm = 0;
  Units units = Units::inch;

  Length exact(double mm) const { return {mm / millimetresPer(units)}; }
  // To whole inches, centimetres or ten millimetres, as people pace it out.
  Length paced(double mm) const {
    const double step = units == Units::millimetre ? 10 : 1;
    return {std::round(mm / millimetresPer(units) / step) * step};
  }
  // The height on the wall nearest to `mm` above the floor.
  double onWall(double mm) const { return std::clamp(mm, above_floor_mm, above_floor_mm + height_mm); }
};

Setting settingOf(const Plan& plan) {
  const Size outline = wallOutline(plan.wall);
  return {toMillimetres(outline.width, plan), toMillimetres(outline.height, plan),
          toMillimetres(plan.wall.above_floor, plan), plan.units};
}

Shot named(std::string name, std::string label) {
  Shot shot;
  shot.name = std::move(name);
  shot.label = std::move(label);
  shot.sensor = Sensor{"full frame", full_frame_long_mm, full_frame_short_mm};
  return shot;
}

// Places the camera level in front of the wall's middle, `out_mm` from the board.
void faceMiddle(Shot& shot, const Setting& setting, double out_mm, double above_floor_mm) {
  shot.camera_out = setting.paced(out_mm);
  shot.camera_above_floor = setting.paced(setting.onWall(above_floor_mm));
  shot.aim_above_floor = shot.camera_above_floor;
}

// The camera's distance from the people for a frame of this size around them.
double distanceFor(double frame_mm, double lens_mm, double sensor_mm) {
  return frame_mm * lens_mm / sensor_mm;
}

Person person(const Setting& setting, double height_mm, double right_mm) {
  return {setting.paced(height_mm), setting.paced(right_mm), setting.paced(people_out_mm)};
}

Shot couple(const Setting& setting) {
  Shot shot = named("couple", "Couple, three-quarter");
  shot.upright = true;
  shot.lens.mm = 85;
  shot.aperture = 4;
  faceMiddle(shot, setting, people_out_mm + distanceFor(1300, 85, full_frame_long_mm), 1300);
  shot.people = {person(setting, 1680, -200), person(setting, 1780, 200)};
  return shot;
}

Shot fullLength(const Setting& setting) {
  Shot shot = named("full length", "One person, full length");
  shot.upright = true;
  shot.lens.mm = 50;
  faceMiddle(shot, setting, people_out_mm + distanceFor(2000, 50, full_frame_long_mm), 950);
  shot.people = {person(setting, 1700, 0)};
  return shot;
}

// As many people as fit in front of the wall, three to eight.
Shot group(const Setting& setting) {
  constexpr double heights_mm[] = {1700, 1780, 1640, 1820, 1600, 1740, 1680, 1850};
  Shot shot = named("group", "Group");
  shot.lens.mm = 35;
  // By this much the frame is narrower at the people than at the wall behind them.
  const double lost_mm = people_out_mm * full_frame_long_mm / 35;
  const int count = static_cast<int>(std::clamp((setting.width_mm - lost_mm) / shoulder_mm, 3.0, 8.0));
  const double row_mm = (count + 0.5) * shoulder_mm;
  faceMiddle(shot, setting, people_out_mm + distanceFor(row_mm, 35, full_frame_long_mm), 1300);
  for (int k = 0; k < count; ++k)
    shot.people.push_back(person(setting, heights_mm[k], (k - (count - 1) / 2.0) * shoulder_mm));
  return shot;
}

Shot phone(const Setting& setting) {
  Shot shot = named("phone", "A guest's phone, from the side");
  shot.sensor = Sensor{"phone", 9.8, 7.35};
  shot.megapixels = 12;
  shot.lens = FocalLength{26, true};
  shot.aperture = 1.8;
  const double distance_mm = std::clamp(0.9 * std::max(setting.width_mm, setting.height_mm), 1500.0, 4000.0);
  const double angle = radians(50);
  shot.camera_right = setting.paced(distance_mm * std::sin(angle));
  shot.camera_out = setting.paced(distance_mm * std::cos(angle));
  shot.camera_above_floor = setting.paced(eye_level_mm);
  shot.aim_above_floor = setting.paced(setting.onWall(1300));
  return shot;
}

// As far out as the side of the outline that needs the larger distance.
Shot wholeWall(const Setting& setting) {
  Shot shot = named("whole wall", "The whole wall");
  shot.lens.mm = 50;
  shot.upright = setting.height_mm > setting.width_mm;
  const double across_mm = shot.upright ? full_frame_short_mm : full_frame_long_mm;
  const double down_mm = shot.upright ? full_frame_long_mm : full_frame_short_mm;
  shot.camera_out = setting.exact(std::max(distanceFor(air_around_wall * setting.width_mm, 50, across_mm),
                                           distanceFor(air_around_wall * setting.height_mm, 50, down_mm)));
  shot.camera_above_floor = setting.exact(setting.above_floor_mm + setting.height_mm / 2);
  shot.aim_above_floor = shot.camera_above_floor;
  return shot;
}

}  // namespace

std::vector<Shot> defaultShots(const Plan& plan) {
  const Setting setting = settingOf(plan);
  return {couple(setting), fullLength(setting), group(setting), phone(setting), wholeWall(setting)};
}

}  // namespace petalproof::plan
