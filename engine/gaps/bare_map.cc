#include "engine/gaps/bare_map.h"

#include "engine/base/stopping.h"
#include "engine/camera/projection.h"
#include "engine/gaps/gaps.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace petalproof::gaps {
namespace {

// On larger walls the cells grow, so that memory stays bounded: 268 m2 at 1 mm.
constexpr double most_cells = 268'435'456;

int cellsAlong(double length_mm, double cell_mm) {
  // As many as have their middle on the wall.
  return std::max(0, static_cast<int>(std::floor(length_mm / cell_mm - 0.5)) + 1);
}

std::size_t offset(const BareMap& map, int column, int row) {
  return static_cast<std::size_t>(row) * static_cast<std::size_t>(map.columns) +
         static_cast<std::size_t>(column);
}

bool seesBare(const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
              const glm::dvec3& pixel) {
  if (!(pixel.z > 0)) return false;
  const double x = pixel.x / pixel.z;
  const double y = pixel.y / pixel.z;
  if (!(x >= 0 && x < buffer.width_px && y >= 0 && y < buffer.height_px)) return false;
  return isBare(buffer.id(static_cast<int>(x), static_cast<int>(y)), panels);
}

void addRow(BareMap& map, const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
            const glm::dmat3& pixel, int row) {
  const glm::dvec3 first = pixel * glm::dvec3(0.5 * map.cell_mm, (row + 0.5) * map.cell_mm, 1);
  const glm::dvec3 per_cell = pixel[0] * static_cast<double>(map.cell_mm);
  for (int column = 0; column < map.columns; ++column) {
    std::uint8_t& shots = map.shots[offset(map, column, row)];
    if (shots < 255 && seesBare(buffer, panels, first + per_cell * static_cast<double>(column))) ++shots;
  }
}

}  // namespace

double BareMap::bare_mm2() const {
  const auto bare =
      static_cast<std::int64_t>(shots.size()) - std::count(shots.begin(), shots.end(), std::uint8_t{0});
  return static_cast<double>(bare) * cell_mm * cell_mm;
}

BareMap emptyBareMap(const scene::PanelGrid& panels) {
  BareMap map;
  const double area_mm2 = panels.width_mm() * panels.height_mm();
  map.cell_mm = std::max(1, static_cast<int>(std::ceil(std::sqrt(area_mm2 / most_cells))));
  map.columns = cellsAlong(panels.width_mm(), map.cell_mm);
  map.rows = cellsAlong(panels.height_mm(), map.cell_mm);
  map.shots.assign(offset(map, 0, map.rows), 0);
  return map;
}

void addTo(BareMap& map, const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
           const camera::Camera& camera, const Pool& pool, const std::stop_token& stop) {
  const glm::dmat3 pixel = camera::pixelFromBoard(camera);
  pool.forEach(static_cast<std::size_t>(map.rows), [&](std::size_t row) {
    throwIfStopAsked(stop);
    addRow(map, buffer, panels, pixel, static_cast<int>(row));
  });
}

}  // namespace petalproof::gaps
