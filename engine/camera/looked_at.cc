#include "engine/camera/looked_at.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string_view>

namespace petalproof::camera {
namespace {

constexpr double mm_per_inch = 25.4;
// looked_at.h says where these sizes and distances come from.
constexpr double in_the_hand_mm = 333;
constexpr double usual_side_mm = 254;  // an 8 x 10 in print
constexpr double sharp_sight_per_degree = 60;
// Keeps rounding from adding a pixel to a whole number of pixels.
constexpr double pixel_rounding = 1e-9;

struct Box {
  double width_mm;
  double height_mm;
};
constexpr Box phone{71, 154};
constexpr double phone_distance_mm = 300;
constexpr double album_side_mm = 203;
constexpr double album_distance_mm = 400;
constexpr Box laptop{300, 188};
constexpr double laptop_distance_mm = 550;

double aspectOf(const Camera& camera) {
  return static_cast<double>(camera.width_px) / static_cast<double>(camera.height_px);
}

double widthInside(Box box, const Camera& camera) {
  return std::min(box.width_mm, box.height_mm * aspectOf(camera));
}

double widthByLongerSide(double side_mm, const Camera& camera) {
  return side_mm * std::min(1.0, aspectOf(camera));
}

// A print up to the usual size is held in the hand; a larger print is seen from where it fills the same
// angle.
Viewing printed(double side_mm, const Camera& camera) {
  return {widthByLongerSide(side_mm, camera), in_the_hand_mm * std::max(1.0, side_mm / usual_side_mm)};
}

// The longer side of "print 8x10"; the plan's reader has made sure of the text.
double printSideMm(std::string_view name) {
  double longer = 0;
  for (std::string_view remaining = name.substr(name.find(' ') + 1); !remaining.empty();) {
    double inches = 0;
    const char* const end =
        std::from_chars(remaining.data(), remaining.data() + remaining.size(), inches).ptr;
    longer = std::max(longer, inches);
    remaining.remove_prefix(std::min(remaining.size(), static_cast<std::size_t>(end - remaining.data()) + 1));
  }
  return longer * mm_per_inch;
}

}  // namespace

Viewing viewingOf(const plan::Shot& shot, const Camera& camera, Units units) {
  if (!shot.looked_at) return printed(usual_side_mm, camera);
  const plan::LookedAt& looked = *shot.looked_at;
  if (looked.name.empty()) return {toMillimetres(looked.width, units), toMillimetres(looked.distance, units)};
  if (looked.name == "phone") return {widthInside(phone, camera), phone_distance_mm};
  if (looked.name == "album") return {widthByLongerSide(album_side_mm, camera), album_distance_mm};
  if (looked.name == "laptop") return {widthInside(laptop, camera), laptop_distance_mm};
  return printed(printSideMm(looked.name), camera);
}

WorkingSize workingSizeOf(const Camera& camera, const Viewing& viewing) {
  const double pixel_mm = 2 * viewing.distance_mm * std::tan(radians(1 / sharp_sight_per_degree) / 2);
  const double wanted = std::ceil(viewing.width_mm / pixel_mm - pixel_rounding);
  const double width = std::clamp(wanted, 1.0, static_cast<double>(camera.width_px));
  WorkingSize size;
  size.width_px = static_cast<int>(width);
  size.height_px = std::max(1, static_cast<int>(std::lround(width / aspectOf(camera))));
  size.pixels_per_degree = 1 / degrees(2 * std::atan(viewing.width_mm / width / 2 / viewing.distance_mm));
  return size;
}

}  // namespace petalproof::camera
