#pragma once
// Walls, cameras and pictures made by hand: what a picture shows is known in closed form.

#include "engine/camera/camera.h"
#include "engine/camera/projection.h"
#include "engine/gaps/gaps.h"
#include "engine/visibility/visibility_buffer.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <functional>
#include <random>

namespace petalproof {

class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(engine_() >> 11) * 0x1.0p-53);
  }
  int whole(int low, int high) { return static_cast<int>(std::floor(between(low, high + 1.0))); }

 private:
  std::mt19937_64 engine_;
};

inline scene::PanelGrid gridOf(int columns, int rows, double panel_width, double panel_height, double seam) {
  scene::PanelGrid panels;
  panels.columns = columns;
  panels.rows = rows;
  panels.panel_width_mm = panel_width;
  panels.panel_height_mm = panel_height;
  panels.seam_mm = seam;
  panels.has_panel = Grid<std::uint8_t>(columns, rows, 1);
  return panels;
}

inline camera::WallFrame frameOf(const scene::PanelGrid& panels) {
  return {Units::millimetre, panels.width_mm(), panels.height_mm(), panels.above_floor_mm};
}

// Full frame with the megapixels; camera and aim in mm from the wall's lower left corner.
inline camera::Camera cameraAt(const scene::PanelGrid& panels, glm::dvec3 camera, glm::dvec2 aim,
                               double lens_mm, double megapixels) {
  const camera::WallFrame wall = frameOf(panels);
  plan::Shot shot;
  shot.sensor = {"full frame", 36, 24};
  shot.lens = {lens_mm, false};
  shot.megapixels = megapixels;
  shot.camera_right = {camera.x - wall.width_mm / 2};
  shot.camera_above_floor = {camera.y + wall.above_floor_mm};
  shot.camera_out = {camera.z};
  shot.aim_right = {aim.x - wall.width_mm / 2};
  shot.aim_above_floor = {aim.y + wall.above_floor_mm};
  return camera::makeCamera(shot, wall).value.value();
}

// One pixel is `pixel_mm` on the board, everywhere; the picture is `width` x `height` about `middle`.
inline camera::Camera headOnCamera(glm::dvec2 middle, double pixel_mm, int width, int height) {
  camera::Camera camera;
  camera.position.mm = {middle, 3000};
  camera.focal_px = 3000 / pixel_mm;
  camera.width_px = width;
  camera.height_px = height;
  return camera;
}

// The larger side of a pixel's footprint at a place.
inline double largestFootprint(const camera::Camera& camera, glm::dvec2 place) {
  const glm::dvec2 px = camera::project(camera, onBoardPlane({place}))->px;
  double largest = 0;
  for (const glm::dvec2& step : {glm::dvec2(1, 0), glm::dvec2(0, 1), glm::dvec2(1, 1), glm::dvec2(1, -1)}) {
    const glm::dvec2 a = camera::boardPointOf(camera, {px - 0.5 * step})->mm;
    const glm::dvec2 b = camera::boardPointOf(camera, {px + 0.5 * step})->mm;
    largest = std::max(largest, glm::distance(a, b));
  }
  return largest;
}

using IsBare = std::function<bool(glm::dvec2 place_mm)>;

// Shows the board plane where `is_bare` says so, a bloom elsewhere.
inline visibility::VisibilityBuffer pictureOf(const scene::PanelGrid& panels, const camera::Camera& camera,
                                              const IsBare& is_bare) {
  visibility::VisibilityBuffer buffer;
  buffer.width_px = camera.width_px;
  buffer.height_px = camera.height_px;
  const auto count = static_cast<std::size_t>(camera.width_px) * static_cast<std::size_t>(camera.height_px);
  buffer.ids.assign(count, visibility::PixelId(visibility::Sees::bloom, 0));
  const glm::dmat3 board = camera::boardFromPixel(camera);
  for (int y = 0; y < camera.height_px; ++y)
    for (int x = 0; x < camera.width_px; ++x) {
      const glm::dvec3 h = board * glm::dvec3(x + 0.5, y + 0.5, 1);
      if (!(h.z > 0)) {
        buffer.ids[buffer.offset(x, y)] = visibility::PixelId();
        continue;
      }
      const BoardPoint place{glm::dvec2(h) / h.z};
      const visibility::PixelId id = visibility::boardPlaneAt(panels, place);
      if ((id.sees() != visibility::Sees::board && id.sees() != visibility::Sees::seam) || is_bare(place.mm))
        buffer.ids[buffer.offset(x, y)] = id;
    }
  return buffer;
}

// A picture of one panel so large that it has no edge in it: pixel (x, y) is bare where the mask is not 0,
// and a pixel is 1 mm.
struct MaskPicture {
  scene::PanelGrid panels;
  camera::Camera camera;
  visibility::VisibilityBuffer buffer;
};

inline MaskPicture pictureOfMask(int width, int height, const std::function<bool(int x, int y)>& is_set) {
  MaskPicture made;
  made.panels = gridOf(1, 1, 1e6, 1e6, 0);
  made.camera = headOnCamera({5e5, 5e5}, 1.0, width, height);
  made.buffer.width_px = width;
  made.buffer.height_px = height;
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x)
      made.buffer.ids.push_back(is_set(x, y) ? visibility::PixelId(visibility::Sees::board, 0)
                                             : visibility::PixelId(visibility::Sees::bloom, 0));
  return made;
}

}  // namespace petalproof
