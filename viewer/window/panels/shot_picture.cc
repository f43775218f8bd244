#include "viewer/window/panels/shot_picture.h"

#include "engine/plan/sensors.h"

#include <algorithm>
#include <array>

namespace petalproof::window {
namespace {

struct NamedCrop {
  const char* name;
  std::optional<plan::CropShape> shape;
};

const std::array<NamedCrop, 7>& crops() {
  static const std::array<NamedCrop, 7> named{{{"as the sensor", std::nullopt},
                                               {"8 : 10", plan::CropShape{8, 10}},
                                               {"5 : 7", plan::CropShape{5, 7}},
                                               {"2 : 3", plan::CropShape{2, 3}},
                                               {"1 : 1", plan::CropShape{1, 1}},
                                               {"3 : 2", plan::CropShape{3, 2}},
                                               {"16 : 9", plan::CropShape{16, 9}}}};
  return named;
}

// A measured print to begin with: 10 in wide, seen from 13 in, about an 8 x 10 in the hand.
constexpr double first_print_mm = 254;
constexpr double first_distance_mm = 333;

constexpr const char* by_hand = "by its measures";

const std::vector<std::string>& lookedAtNames() {
  // The first name is the default of a shot that doesn't say how its picture is looked at.
  static const std::vector<std::string> names{
      "a print in the hand", "print 4x6", "print 5x7", "print 8x10", "print 11x14",
      "print 16x20",         "album",     "phone",     "laptop"};
  return names;
}

int indexOf(const std::vector<std::string>& names, const std::string& name) {
  const auto found = std::find(names.begin(), names.end(), name);
  return found == names.end() ? -1 : static_cast<int>(found - names.begin());
}

}  // namespace

void ShotPicture::drawSensor(ShotWork& work) {
  std::vector<std::string> names;
  for (const plan::Sensor& sensor : plan::namedSensors()) names.push_back(sensor.name);
  names.emplace_back(by_hand);
  plan::Sensor& sensor = work.shot.sensor;
  const int last = static_cast<int>(names.size()) - 1;
  const int chosen = sensor.name.empty() ? last : indexOf(names, sensor.name);
  if (const auto picked = choice("sensor", names, chosen, work.width)) {
    if (*picked == last)
      sensor.name.clear();
    else
      sensor = plan::namedSensors()[static_cast<std::size_t>(*picked)];
    work.set("sensor");
  }
  if (!sensor.name.empty()) return;
  const float width = 52 * work.ui.scale;
  if (const auto wide = fields_.number("by", sensor.width_mm, 3, width, {"mm"})) {
    sensor.width_mm = *wide;
    work.set("sensor");
  }
  ImGui::SameLine();
  if (const auto high = fields_.number("mm, held level", sensor.height_mm, 3, width, {"mm"})) {
    sensor.height_mm = *high;
    work.set("sensor");
  }
}

void ShotPicture::drawCrop(ShotWork& work) {
  std::vector<std::string> names;
  for (const NamedCrop& crop : crops()) names.emplace_back(crop.name);
  names.emplace_back(by_hand);
  std::optional<plan::CropShape>& crop = work.shot.crop;
  const auto found = std::find_if(crops().begin(), crops().end(),
                                  [&](const NamedCrop& named) { return named.shape == crop; });
  const int last = static_cast<int>(names.size()) - 1;
  const int chosen = static_cast<int>(found - crops().begin());
  if (const auto picked = choice("cropped", names, chosen, work.width)) {
    // A crop by hand begins with a shape that has no name of its own.
    crop = *picked == last ? std::optional(plan::CropShape{4, 5})
                           : crops()[static_cast<std::size_t>(*picked)].shape;
    work.set("crop");
  }
  if (chosen != last || !crop) return;
  const float width = 52 * work.ui.scale;
  if (const auto wide = fields_.number("to##crop", crop->width, 3, width)) {
    crop->width = *wide;
    work.set("crop");
  }
  ImGui::SameLine();
  if (const auto high = fields_.number("wide to high", crop->height, 3, width)) {
    crop->height = *high;
    work.set("crop");
  }
}

void ShotPicture::drawLookedAt(ShotWork& work) {
  std::vector<std::string> names = lookedAtNames();
  names.emplace_back(by_hand);
  const int last = static_cast<int>(names.size()) - 1;
  std::optional<plan::LookedAt>& looked = work.shot.looked_at;
  const bool measured = looked && looked->name.empty();
  const int chosen = measured ? last : looked ? indexOf(names, looked->name) : 0;
  const double mm = millimetresPer(work.state.plan().units);
  if (const auto picked = choice("looked at as", names, chosen, work.width)) {
    const std::string& name = names[static_cast<std::size_t>(*picked)];
    looked = *picked == 0 ? std::nullopt
             : *picked == last
                 ? std::optional(plan::LookedAt{"", {first_print_mm / mm}, {first_distance_mm / mm}})
                 : std::optional(plan::LookedAt{name, {}, {}});
    work.set("how it is looked at");
  }
  help(
      "How large the finished picture is, and from how far it is seen: a hole that shows in a large print may "
      "be lost on a phone.");
  if (!measured) return;
  const Units units = work.state.plan().units;
  const float width = 60 * work.ui.scale;
  if (const auto wide = fields_.length("wide", looked->width, units, width)) {
    looked->width = *wide;
    work.set("how it is looked at");
  }
  ImGui::SameLine();
  if (const auto away = fields_.length("from the eye", looked->distance, units, width)) {
    looked->distance = *away;
    work.set("how it is looked at");
  }
}

void ShotPicture::draw(ShotWork& work) {
  heading(work.ui, "Picture");
  drawSensor(work);
  if (ImGui::Checkbox("upright", &work.shot.upright)) work.set("upright");
  ImGui::SameLine();
  if (const auto megapixels = fields_.number("megapixels", work.shot.megapixels, 1, 52 * work.ui.scale)) {
    work.shot.megapixels = *megapixels;
    work.set("megapixels");
  }
  drawCrop(work);
  drawLookedAt(work);
}

}  // namespace petalproof::window
