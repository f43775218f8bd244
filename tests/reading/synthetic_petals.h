#pragma once
// A working picture of nothing but petals, drawn by numbers: overlapping shaded discs. What is bare is put in
// by hand.

#include "engine/base/pool.h"
#include "engine/gaps/gaps.h"
#include "engine/picture/working_picture.h"
#include "engine/reading/reading.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <utility>
#include <vector>

namespace petalproof::synthetic {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr unsigned fewer = 4;  // of what is random: it takes long there
#else
constexpr unsigned fewer = 1;
#endif

constexpr float petal_inverse_mm = 1.0F / 3900;

inline picture::WorkingPicture even(int width, int height, const glm::vec3& light,
                                    double pixels_per_degree = 60) {
  picture::WorkingPicture picture;
  picture.size = {width, height, pixels_per_degree};
  const auto count = static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
  picture.front.assign(count, light);
  picture.bare.assign(count, glm::vec3(0));
  picture.bare_share.assign(count, 0);
  picture.bloom_share.assign(count, 1);
  picture.front_inverse_mm.assign(count, petal_inverse_mm);
  picture.paper.assign(count, 1);
  return picture;
}

// Each disc is a petal of its own colour that darkens towards one side.
inline picture::WorkingPicture petals(int width, int height, unsigned seed, float contrast = 1) {
  picture::WorkingPicture picture = even(width, height, glm::vec3(0.3F, 0.12F, 0.1F));
  std::mt19937 random(seed);
  std::uniform_real_distribution<float> unit(0, 1);
  const int count = width * height / 150;
  for (int k = 0; k < count; ++k) {
    const float x0 = unit(random) * static_cast<float>(width);
    const float y0 = unit(random) * static_cast<float>(height);
    const float radius = 8 + 22 * unit(random);
    const float angle = 6.2831853F * unit(random);
    const glm::vec3 colour =
        glm::vec3(0.3F, 0.12F, 0.1F) + contrast * glm::vec3(0.3F, 0.1F, 0.08F) * (unit(random) - 0.5F);
    const int reach = static_cast<int>(radius) + 1;
    for (int y = std::max(0, static_cast<int>(y0) - reach);
         y < std::min(height, static_cast<int>(y0) + reach); ++y)
      for (int x = std::max(0, static_cast<int>(x0) - reach);
           x < std::min(width, static_cast<int>(x0) + reach); ++x) {
        const float dx = (static_cast<float>(x) - x0) / radius;
        const float dy = (static_cast<float>(y) - y0) / radius;
        if (dx * dx + dy * dy > 1) continue;
        const float shade =
            1 - 0.5F * contrast * (0.5F + 0.5F * (dx * std::cos(angle) + dy * std::sin(angle)));
        const std::size_t at = picture.offset(x, y);
        picture.front[at] = colour * shade;
        picture.paper[at] = static_cast<std::uint32_t>(k) + 2;
      }
  }
  return picture;
}

// Makes the rectangle bare, wholly, with this light; the hole's measures are those of 1 mm a pixel.
inline gaps::Hole makeBare(picture::WorkingPicture& picture, int number, int x0, int y0, int width,
                           int height, const glm::vec3& light) {
  gaps::Hole hole;
  hole.width_px = std::min(width, height);
  hole.gaps = {static_cast<std::size_t>(number) - 1};
  gaps::Gap& gap = hole.whole;
  gap.number = gap.hole = number;
  gap.owner = {gaps::GapKind::board, 0, 0, false};
  gap.pixels = static_cast<std::int64_t>(width) * height;
  gap.width_mm = std::min(width, height);
  gap.length_mm = std::hypot(width, height);
  const glm::dvec2 low(x0, y0);
  const glm::dvec2 high(x0 + width, y0 + height);
  gap.outline_mm = {low, {high.x, low.y}, high, {low.x, high.y}, low};
  for (int y = y0; y < y0 + height; ++y) {
    gap.runs.push_back({y, x0, x0 + width, 1});
    for (int x = x0; x < x0 + width; ++x) {
      const std::size_t k = static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.size.width_px) +
                            static_cast<std::size_t>(x);
      picture.bare[k] = light;
      picture.bare_share[k] = 1;
      picture.bloom_share[k] = 0;
      picture.front[k] = glm::vec3(0);
      picture.paper[k] = 0;
    }
  }
  return hole;
}

// A camera 4 m before a wall far larger than the picture, one pixel of it a pixel of the working picture.
inline camera::Camera facingCamera(const camera::WorkingSize& size) {
  camera::Camera camera;
  camera.position.mm = {5000, 5000, 4000};
  camera.width_px = size.width_px;
  camera.height_px = size.height_px;
  camera.focal_px = 4000;
  return camera;
}

// A disc of `blur_px` for a point of the board.
inline picture::LensBlur boardBlur(double blur_px) { return {blur_px * 4, 3000}; }

inline reading::PictureLooks lookAt(const picture::WorkingPicture& picture,
                                    const std::vector<gaps::Hole>& holes, double blur_px = 0,
                                    int threads = 0) {
  scene::PanelGrid panels;
  panels.columns = panels.rows = 1;
  panels.panel_width_mm = panels.panel_height_mm = 10000;
  panels.has_panel = Grid<std::uint8_t>(1, 1, 1);
  const camera::Camera camera = facingCamera(picture.size);
  reading::LooksInput input{picture, camera, panels, holes};
  input.lens = boardBlur(blur_px);
  return reading::PictureLooker(Pool(threads)).look(input);
}

// Held against the picture's own pieces.
inline std::vector<reading::Reading> readAll(const picture::WorkingPicture& picture,
                                             const std::vector<gaps::Hole>& holes, double blur_px = 0,
                                             int threads = 0) {
  const reading::PictureLooks looks = lookAt(picture, holes, blur_px, threads);
  return reading::readingsOf(looks, reading::Oddity(looks.pieces, Pool(threads)), {});
}

}  // namespace petalproof::synthetic
