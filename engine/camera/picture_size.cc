#include "engine/camera/picture_size.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace petalproof::camera {
namespace {

// Rounds down to a whole number of the same parity as `full`, so that the crop keeps the picture's middle.
int flooredToParity(double side, int full) {
  constexpr double rounding = 1e-9;  // a side that rounding took just below a whole number counts as whole
  const int whole = static_cast<int>(std::floor(side + rounding));
  const int even = whole - (full - whole) % 2;
  return std::max(even, full % 2 == 0 ? 2 : 1);
}

void crop(PictureSize& size, const plan::CropShape& shape) {
  const double width_for_full_height = size.full_height * shape.width / shape.height;
  if (width_for_full_height <= size.full_width)
    size.width = flooredToParity(width_for_full_height, size.full_width);
  else
    size.height = flooredToParity(size.full_width * shape.height / shape.width, size.full_height);
}

}  // namespace

PictureSize pictureSizeOf(const plan::Shot& shot) {
  const plan::Sensor& sensor = shot.sensor;
  const double columns = std::round(std::sqrt(shot.megapixels * 1e6 * sensor.width_mm / sensor.height_mm));
  const double rows = std::round(columns * sensor.height_mm / sensor.width_mm);
  PictureSize size;
  size.full_width = std::max(1, static_cast<int>(columns));
  size.full_height = std::max(1, static_cast<int>(rows));
  if (shot.upright) std::swap(size.full_width, size.full_height);
  size.width = size.full_width;
  size.height = size.full_height;
  if (shot.crop) crop(size, *shot.crop);
  return size;
}

}  // namespace petalproof::camera
