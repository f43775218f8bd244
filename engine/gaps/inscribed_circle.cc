#include "engine/gaps/internal/inscribed_circle.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

namespace petalproof {
namespace {

// Cells along the thickness of a region whose pixels are finer than that; the circle found on them is then
// improved on the pixels themselves.
constexpr double cells_across = 200;
constexpr double most_cells = 16e6;

// A grid of square cells on the board plane around a region, one cell wider than it on each side.
struct CellGrid {
  glm::dvec2 corner_mm{0};
  double pitch_mm = 1;
  int columns = 0;
  int rows = 0;

  glm::dvec2 middle(int column, int row) const {
    return corner_mm + pitch_mm * glm::dvec2(column + 0.5, row + 0.5);
  }
};

CellGrid gridAround(std::span<const glm::dvec2> hull, double pitch_mm) {
  glm::dvec2 low = hull.front();
  glm::dvec2 high = hull.front();
  for (const glm::dvec2& p : hull) {
    low = glm::min(low, p);
    high = glm::max(high, p);
  }
  const glm::dvec2 size = high - low;
  const double pitch = std::max(pitch_mm, std::sqrt(size.x * size.y / most_cells));
  return {low - pitch, pitch, static_cast<int>(std::ceil(size.x / pitch)) + 2,
          static_cast<int>(std::ceil(size.y / pitch)) + 2};
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

struct Segment {
  glm::dvec2 from;
  glm::dvec2 along;
  double squared_length;
};

// The region's border on the board plane.
std::vector<Segment> borderOf(const PixelRegion& region, const BoardMapping& mapping) {
  std::vector<Segment> border;
  const auto add = [&](glm::dvec2 a_px, glm::dvec2 b_px) {
    const glm::dvec2 a = mapping.board(a_px);
    const glm::dvec2 along = mapping.board(b_px) - a;
    border.push_back({a, along, glm::dot(along, along)});
  };
  // Stretches of a run without a pixel on the other side of the line `y`.
  const auto addOpenStretches = [&](const Run& run, int neighbour_row, int y) {
    for (int x = run.begin; x < run.end;) {
      const int from = x;
      while (x < run.end && !region.has(x, neighbour_row)) ++x;
      if (x > from) add({from, y}, {x, y});
      while (x < run.end && region.has(x, neighbour_row)) ++x;
    }
  };
  for (const Run& run : region.runs()) {
    add({run.begin, run.row}, {run.begin, run.row + 1});
    add({run.end, run.row}, {run.end, run.row + 1});
    addOpenStretches(run, run.row - 1, run.row);
    addOpenStretches(run, run.row + 1, run.row + 1);
  }
  return border;
}

double distanceTo(const std::vector<Segment>& border, glm::dvec2 p) {
  double nearest2 = std::numeric_limits<double>::infinity();
  for (const Segment& segment : border) {
    const glm::dvec2 from = p - segment.from;
    const double share = std::clamp(glm::dot(from, segment.along) / segment.squared_length, 0.0, 1.0);
    const glm::dvec2 between = from - share * segment.along;
    nearest2 = std::min(nearest2, glm::dot(between, between));
  }
  return std::sqrt(nearest2);
}

// Climbs from `middle` to a place farther from the border, with steps halved down to `finest`.
double climbedRadius(const PixelRegion& region, const BoardMapping& mapping, glm::dvec2 middle, double step,
                     double finest) {
  const std::vector<Segment> border = borderOf(region, mapping);
  double radius = distanceTo(border, middle);
  while (step > finest) {
    bool climbed = false;
    for (int direction = 0; direction < 8; ++direction) {
      const double angle = direction * 0.25 * 3.14159265358979323846;
      const glm::dvec2 next = middle + step * glm::dvec2(std::cos(angle), std::sin(angle));
      const double there = isInside(region, mapping, next) ? distanceTo(border, next) : 0.0;
      if (there <= radius) continue;
      radius = there;
      middle = next;
      climbed = true;
    }
    if (!climbed) step /= 2;
  }
  return radius;
}

}  // namespace

double widthOf(const PixelRegion& region, const BoardMapping& mapping, std::span<const glm::dvec2> hull,
               double area_mm2, CircleScratch& scratch) {
  const double fine = footprintOf(region, mapping) / 2;
  const double thickness = area_mm2 / diameterOf(hull);
  const CellGrid grid = gridAround(hull, std::max(fine, thickness / cells_across));
  fillDistancesAlongColumns(grid, region, mapping, scratch.to_outside);
  const Deepest deepest = deepestCell(grid, scratch);
  if (grid.pitch_mm > fine && deepest.squared > 0)
    return 2 *
           climbedRadius(region, mapping, grid.middle(deepest.column, deepest.row), grid.pitch_mm, fine / 2);
  // From middle to middle; the border is half a cell nearer.
  return deepest.squared > 0 ? (2 * std::sqrt(deepest.squared) - 1) * grid.pitch_mm : grid.pitch_mm;
}

}  // namespace petalproof
