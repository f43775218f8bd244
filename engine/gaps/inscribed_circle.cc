#include "engine/gaps/internal/inscribed_circle.h"

#include <glm/common.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

namespace petalproof {
namespace {

// A circle is first looked for on cells of half a pixel, or as many across a region's thickness as this; then
// improved on the pixels themselves.
constexpr double cells_across = 100;
constexpr double most_cells = 16e6;

// A grid of square cells on the board plane, centred on a region and wider than it.
struct CellGrid {
  glm::dvec2 corner_mm{0};
  double pitch_mm = 1;
  int columns = 0;
  int rows = 0;

  glm::dvec2 middle(int column, int row) const {
    return corner_mm + pitch_mm * glm::dvec2(column + 0.5, row + 0.5);
  }
};

CellGrid gridAround(std::span<const Footprint> hull, double pitch_mm) {
  glm::dvec2 low = hull.front().centre_mm;
  glm::dvec2 high = low;
  for (const Footprint& pixel : hull) {
    const glm::dvec2 reach = glm::abs(pixel.half_across_mm) + glm::abs(pixel.half_down_mm);
    low = glm::min(low, pixel.centre_mm - reach);
    high = glm::max(high, pixel.centre_mm + reach);
  }
  const glm::dvec2 size = high - low;
  const double pitch = std::max(pitch_mm, std::sqrt(size.x * size.y / most_cells));
  const int columns = static_cast<int>(std::ceil(size.x / pitch)) + 2;
  const int rows = static_cast<int>(std::ceil(size.y / pitch)) + 2;
  const glm::dvec2 grid_size = pitch * glm::dvec2(columns, rows);
  return {(low + high - grid_size) / 2.0, pitch, columns, rows};
}

bool isInside(const PixelRegion& region, const BoardMapping& mapping, glm::dvec2 place_mm) {
  const glm::dvec2 px = mapping.pixel(place_mm);
  // Far outside, the pixel may not fit a whole number.
  if (!(px.x >= region.left() && px.x < region.left() + region.width())) return false;
  if (!(px.y >= region.top() && px.y < region.top() + region.height())) return false;
  return region.has(static_cast<int>(px.x), static_cast<int>(px.y));
}

std::size_t offset(const CellGrid& grid, int column, int row) {
  return static_cast<std::size_t>(row) * static_cast<std::size_t>(grid.columns) +
         static_cast<std::size_t>(column);
}

// For each cell whose middle is inside, how many cells up or down the nearest is that isn't; else 0.
void fillDistancesAlongColumns(const CellGrid& grid, const PixelRegion& region, const BoardMapping& mapping,
                               std::vector<int>& distances) {
  distances.assign(offset(grid, 0, grid.rows), 0);
  for (int row = 1; row + 1 < grid.rows; ++row)
    for (int column = 1; column + 1 < grid.columns; ++column)
      if (isInside(region, mapping, grid.middle(column, row)))
        distances[offset(grid, column, row)] = distances[offset(grid, column, row - 1)] + 1;
  for (int row = grid.rows - 2; row > 0; --row)
    for (int column = 1; column + 1 < grid.columns; ++column) {
      int& here = distances[offset(grid, column, row)];
      here = std::min(here, distances[offset(grid, column, row + 1)] + 1);
    }
}

// The largest squared distance of a cell in a row to the nearest outer cell, and where it is: the lower
// envelope of parabolas (P. Felzenszwalb, D. Huttenlocher, "Distance transforms of sampled functions",
// Theory of Computing 8(19), 2012).
struct Deepest {
  double squared = 0;
  int column = 0;
  int row = 0;
};

void buildEnvelope(const int* distances, int columns, CircleScratch& scratch) {
  auto& centres = scratch.centres;
  auto& borders = scratch.borders;
  centres.clear();
  borders.clear();
  for (int column = 0; column < columns; ++column) {
    const double height = static_cast<double>(distances[column]) * distances[column];
    double border = -std::numeric_limits<double>::infinity();
    while (!centres.empty()) {
      const int last = centres.back();
      const double last_height = static_cast<double>(distances[last]) * distances[last];
      border = ((height - last_height) / (column - last) + column + last) / 2;
      if (border > borders.back()) break;
      centres.pop_back();
      borders.pop_back();
      border = -std::numeric_limits<double>::infinity();
    }
    centres.push_back(column);
    borders.push_back(border);
  }
}

void deepenByRow(const int* distances, int row, int columns, CircleScratch& scratch, Deepest& deepest) {
  // No cell is farther from the outside than along its column.
  const double most = *std::max_element(distances, distances + columns);
  if (most * most <= deepest.squared) return;
  buildEnvelope(distances, columns, scratch);
  std::size_t k = 0;
  for (int column = 0; column < columns; ++column) {
    while (k + 1 < scratch.borders.size() && scratch.borders[k + 1] < column) ++k;
    const double across = column - scratch.centres[k];
    const double along = distances[scratch.centres[k]];
    const double squared = across * across + along * along;
    if (squared > deepest.squared) deepest = {squared, column, row};
  }
}

Deepest deepestCell(const CellGrid& grid, CircleScratch& scratch) {
  Deepest deepest;
  for (int row = 0; row < grid.rows; ++row)
    deepenByRow(scratch.to_outside.data() + offset(grid, 0, row), row, grid.columns, scratch, deepest);
  return deepest;
}

double squaredLength(glm::dvec2 v) { return v.x * v.x + v.y * v.y; }

// The pixels beside the region.
void collectBorder(const PixelRegion& region, const BoardMapping& mapping, std::vector<Footprint>& border) {
  border.clear();
  const auto add = [&](int x, int y) { border.push_back(mapping.footprintAt({x + 0.5, y + 0.5})); };
  for (const Run& run : region.runs()) {
    add(run.begin - 1, run.row);
    add(run.end, run.row);
    for (int x = run.begin; x < run.end; ++x) {
      if (!region.has(x, run.row - 1)) add(x, run.row - 1);
      if (!region.has(x, run.row + 1)) add(x, run.row + 1);
    }
  }
}

// From a place to the nearest pixel beside the region.
double clearance(const std::vector<Footprint>& border, double largest_radius, glm::dvec2 place) {
  double nearest = std::numeric_limits<double>::infinity();
  double worth_a_look2 = nearest;
  for (const Footprint& pixel : border) {
    const glm::dvec2 between = pixel.centre_mm - place;
    if (squaredLength(between) >= worth_a_look2) continue;
    const double distance = std::sqrt(squaredLength(between)) - pixel.radiusTowards(between);
    if (distance >= nearest) continue;
    nearest = distance;
    const double looked_at = std::max(0.0, nearest + largest_radius);
    worth_a_look2 = looked_at * looked_at;
  }
  return nearest;
}

double largestRadius(const std::vector<Footprint>& border) {
  double largest2 = 0;
  for (const Footprint& pixel : border)
    largest2 = std::max(largest2, squaredLength(pixel.half_across_mm) + squaredLength(pixel.half_down_mm));
  return std::sqrt(largest2);
}

// Climbs from `place` to one with more room around it, with steps halved down to `finest`.
double climbedRadius(const std::vector<Footprint>& border, glm::dvec2 place, double step, double finest) {
  static constexpr double diagonal = 0.70710678118654752;
  static constexpr double directions[8][2] = {
      {1, 0},  {diagonal, diagonal},   {0, 1},  {-diagonal, diagonal},
      {-1, 0}, {-diagonal, -diagonal}, {0, -1}, {diagonal, -diagonal}};
  const double largest_radius = largestRadius(border);
  double radius = clearance(border, largest_radius, place);
  while (step > finest) {
    glm::dvec2 best = place;
    double best_radius = radius;
    for (const auto& direction : directions) {
      const glm::dvec2 next = place + step * glm::dvec2(direction[0], direction[1]);
      const double there = clearance(border, largest_radius, next);
      if (there <= best_radius) continue;
      best_radius = there;
      best = next;
    }
    // A step that hardly gains is the same as none, or a long ridge would be walked in tiny gains.
    if (best_radius < radius + step / 64) step /= 2;
    radius = best_radius;
    place = best;
  }
  return radius;
}

}  // namespace

double widthOf(const PixelRegion& region, const BoardMapping& mapping, std::span<const Footprint> hull,
               double area_mm2, CircleScratch& scratch) {
  const double footprint = footprintOf(region, mapping);
  const double thickness = area_mm2 / std::max(footprint, lengthOf(hull));
  const CellGrid grid = gridAround(hull, std::max(footprint / 2, thickness / cells_across));
  fillDistancesAlongColumns(grid, region, mapping, scratch.to_outside);
  const Deepest deepest = deepestCell(grid, scratch);
  const Run& first = region.runs().front();
  const glm::dvec2 start = deepest.squared > 0 ? grid.middle(deepest.column, deepest.row)
                                               : mapping.board({first.begin + 0.5, first.row + 0.5});
  collectBorder(region, mapping, scratch.border);
  return std::max(0.0, 2 * climbedRadius(scratch.border, start, grid.pitch_mm, footprint / 16));
}

}  // namespace petalproof
