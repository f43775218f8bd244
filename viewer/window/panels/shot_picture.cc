// The part of the shot's page about the picture: sensor, crop, how it is looked at.

#include "engine/plan/sensors.h"
#include "viewer/window/panels/shot_page.h"

#include <algorithm>
#include <array>

namespace petalproof::window {
namespace {

struct NamedCrop {
  const char* name;
  std::optional<plan::CropShape> shape;
};

const std::array<NamedCrop, 7>& crops() {
  static const std::array<NamedCrop, 7> all{{{"as the sensor", std::nullopt},
                                             {"8 : 10", plan::CropShape{8, 10}},
                                             {"5 : 7", plan::CropShape{5, 7}},
                                             {"2 : 3", plan::CropShape{2, 3}},
                                             {"1 : 1", plan::CropShape{1, 1}},
                                             {"3 : 2", plan::CropShape{3, 2}},
                                             {"16 : 9", plan::CropShape{16, 9}}}};
  return all;
}

constexpr const char* by_hand = "by its measures";

const std::vector<std::string>& lookedAtNames() {
  // The first is what a shot means that says nothing of it.
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

void ShotPage::drawSensor(Work& work) {
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
    set(work, "sensor");
  }
  if (!sensor.name.empty()) return;
  const float width = 52 * work.ui.scale;
  if (const auto wide = fields_.number("by", sensor.width_mm, 3, width, {"mm"})) {
    sensor.width_mm = *wide;
    set(work, "sensor");
  }
  ImGui::SameLine();
  if (const auto high = fields_.number("mm, held level", sensor.height_mm, 3, width, {"mm"})) {
    sensor.height_mm = *high;
    set(work, "sensor");
  }
}

void ShotPage::drawCrop(Work& work) {
  std::vector<std::string> names;
  for (const NamedCrop& crop : crops()) names.emplace_back(crop.name);
  names.emplace_back(by_hand);
  std::optional<plan::CropShape>& crop = work.shot.crop;
  const auto found =
      std::find_if(crops().begin(), crops().end(), [&](const NamedCrop& one) { return one.shape == crop; });
  const int last = static_cast<int>(names.size()) - 1;
  const int chosen = static_cast<int>(found - crops().begin());
  if (const auto picked = choice("cropped", names, chosen, work.width)) {
    // By hand begins beside the last one, so that it isn't one of those with a name.
    crop = *picked == last ? std::optional(plan::CropShape{4, 5})
                           : crops()[static_cast<std::size_t>(*picked)].shape;
    set(work, "crop");
  }
  if (chosen != last || !crop) return;
  const float width = 52 * work.ui.scale;
  if (const auto wide = fields_.number("to##crop", crop->width, 3, width)) {
    crop->width = *wide;
    set(work, "crop");
  }
  ImGui::SameLine();
  if (const auto high = fields_.number("wide to high", crop->height, 3, width)) {
    crop->height = *high;
    set(work, "crop");
  }
}

void ShotPage::drawLookedAt(Work& work) {
  std::vector<std::string> names = lookedAtNames();
  names.emplace_back(by_hand);
  const int last = static_cast<int>(names.size()) - 1;
  std::optional<plan::LookedAt>& looked = work.shot.looked_at;
  const bool measured = looked && looked->name.empty();
  const int chosen = measured ? last : looked ? indexOf(names, looked->name) : 0;
  const double mm = millimetresPer(work.state.plan().units);
  if (const auto picked = choice("looked at as", names, chosen, work.width)) {
    const std::string& name = names[static_cast<std::size_t>(*picked)];
    looked = *picked == 0      ? std::nullopt
             : *picked == last ? std::optional(plan::LookedAt{"", {254 / mm}, {333 / mm}})
                               : std::optional(plan::LookedAt{name, {}, {}});
    set(work, "how it is looked at");
  }
  help(
      "How large the finished picture is, and from how far it is seen: a gap that shows in a large print may "
      "be lost on a phone.");
  if (!measured) return;
  const Units units = work.state.plan().units;
  const float width = 60 * work.ui.scale;
  if (const auto wide = fields_.length("wide", looked->width, units, width)) {
    looked->width = *wide;
    set(work, "how it is looked at");
  }
  ImGui::SameLine();
  if (const auto away = fields_.length("from the eye", looked->distance, units, width)) {
    looked->distance = *away;
    set(work, "how it is looked at");
  }
}

void ShotPage::drawPicture(Work& work) {
  heading(work.ui, "Picture");
  drawSensor(work);
  if (ImGui::Checkbox("upright", &work.shot.upright)) set(work, "upright");
  ImGui::SameLine();
  if (const auto megapixels = fields_.number("megapixels", work.shot.megapixels, 1, 52 * work.ui.scale)) {
    work.shot.megapixels = *megapixels;
    set(work, "megapixels");
  }
  drawCrop(work);
  drawLookedAt(work);
}

}  // namespace petalproof::window
