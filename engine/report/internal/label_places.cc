#include "engine/report/internal/label_places.h"

#include "engine/base/grid.h"
#include "engine/base/units.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace petalproof::report {
namespace {

// Places are compared on a grid of this size: finer grids move labels by less than the eye sees.
constexpr int cell_px = 6;
// Distances from the outline at which places are tried, each about 1.4 times the one before.
constexpr std::array<double, 9> reaches_px{10, 22, 38, 58, 84, 120, 170, 240, 340};
constexpr int directions = 24;
constexpr double outline_cost_px =
    14;  // a cell of outline under a label is as bad as this much more distance

// The grid's cells that labels take and those that hold an outline, summed so that any rectangle is counted
// at once.
class Occupancy {
 public:
  explicit Occupancy(const PixelRect& inside)
      : inside_(inside),
        taken_(cellsOf(inside.width), cellsOf(inside.height)),
        outlined_(cellsOf(inside.width), cellsOf(inside.height)) {}

  void markOutline(const std::vector<glm::dvec2>& outline) {
    for (std::size_t k = 0; k < outline.size(); ++k) {
      const glm::dvec2& from = outline[k];
      const glm::dvec2 to = outline[std::min(k + 1, outline.size() - 1)];
      const int steps = std::clamp(static_cast<int>(glm::distance(from, to) / cell_px) + 1, 1, 4000);
      for (int s = 0; s <= steps; ++s) markPoint(from + (to - from) * (static_cast<double>(s) / steps));
    }
  }

  void take(const PixelRect& rect) {
    eachCell(rect, [this](int x, int y) { taken_.at(x, y) = 1; });
  }

  bool isFree(const PixelRect& rect) const {
    if (rect.left < inside_.left || rect.top < inside_.top || rect.right() > inside_.right() ||
        rect.bottom() > inside_.bottom()) {
      return false;
    }
    bool free = true;
    eachCell(rect, [&](int x, int y) { free = free && taken_.at(x, y) == 0; });
    return free;
  }

  int outlinesUnder(const PixelRect& rect) const {
    int count = 0;
    eachCell(rect, [&](int x, int y) { count += outlined_.at(x, y); });
    return count;
  }

 private:
  static int cellsOf(double px) { return static_cast<int>(px / cell_px) + 1; }

  void markPoint(glm::dvec2 p) {
    const glm::dvec2 at = (p - glm::dvec2(inside_.left, inside_.top)) / static_cast<double>(cell_px);
    if (at.x < 0 || at.y < 0 || at.x >= outlined_.columns() || at.y >= outlined_.rows()) return;
    outlined_.at(static_cast<int>(at.x), static_cast<int>(at.y)) = 1;
  }

  template <class Each>
  void eachCell(const PixelRect& rect, Each each) const {
    const auto cell = [](double px, int last) { return std::clamp(static_cast<int>(px / cell_px), 0, last); };
    const int x1 = cell(rect.right() - inside_.left, taken_.columns() - 1);
    const int y1 = cell(rect.bottom() - inside_.top, taken_.rows() - 1);
    for (int y = cell(rect.top - inside_.top, taken_.rows() - 1); y <= y1; ++y) {
      for (int x = cell(rect.left - inside_.left, taken_.columns() - 1); x <= x1; ++x) each(x, y);
    }
  }

  PixelRect inside_;
  Grid<std::uint8_t> taken_;
  Grid<std::uint8_t> outlined_;
};

struct Bounds {
  glm::dvec2 min;
  glm::dvec2 max;
};

Bounds boundsWithin(const std::vector<glm::dvec2>& outline, const PixelRect& inside) {
  Bounds bounds{outline.front(), outline.front()};
  for (const glm::dvec2& p : outline) {
    bounds.min = glm::min(bounds.min, p);
    bounds.max = glm::max(bounds.max, p);
  }
  const glm::dvec2 least(inside.left, inside.top);
  const glm::dvec2 most(inside.right(), inside.bottom());
  return {glm::clamp(bounds.min, least, most), glm::clamp(bounds.max, least, most)};
}

PixelRect centredOn(glm::dvec2 middle, glm::dvec2 size) {
  return {middle.x - size.x / 2, middle.y - size.y / 2, size.x, size.y};
}

PixelRect widened(const PixelRect& rect, double by) {
  return {rect.left - by, rect.top - by, rect.width + 2 * by, rect.height + 2 * by};
}

// The corner or edge point of the outline nearest to `from`.
glm::dvec2 nearestOn(const std::vector<glm::dvec2>& outline, glm::dvec2 from) {
  glm::dvec2 best = outline.front();
  for (std::size_t k = 0; k + 1 < outline.size(); ++k) {
    const glm::dvec2 along = outline[k + 1] - outline[k];
    const double length2 = glm::dot(along, along);
    const double t = length2 > 0 ? std::clamp(glm::dot(from - outline[k], along) / length2, 0.0, 1.0) : 0.0;
    const glm::dvec2 p = outline[k] + t * along;
    if (glm::distance(p, from) < glm::distance(best, from)) best = p;
  }
  return best;
}

// Tries places around the outline's rectangle, nearer first, and returns the cheapest that is free.
std::optional<PixelRect> bestAround(const LabelRequest& request, const PixelRect& inside, double apart_px,
                                    const Occupancy& occupancy) {
  const Bounds bounds = boundsWithin(request.outline, inside);
  const glm::dvec2 half = (bounds.max - bounds.min + request.size_px) / 2.0;
  std::optional<PixelRect> best;
  double best_cost = std::numeric_limits<double>::infinity();
  for (const double reach : reaches_px) {
    for (int d = 0; d < directions; ++d) {
      // Starts at the upper right; up and down are as likely as left and right.
      const double angle = -pi / 4 + 2 * pi * d / directions;
      const glm::dvec2 way(std::cos(angle), std::sin(angle));
      const double to_edge =
          std::min(half.x / std::max(std::abs(way.x), 1e-9), half.y / std::max(std::abs(way.y), 1e-9));
      const PixelRect rect =
          centredOn((bounds.min + bounds.max) / 2.0 + way * (to_edge + reach), request.size_px);
      if (!occupancy.isFree(widened(rect, apart_px))) continue;
      const double cost = reach + outline_cost_px * occupancy.outlinesUnder(rect);
      if (cost < best_cost) {
        best_cost = cost;
        best = rect;
      }
    }
    if (best_cost < reach) break;
  }
  return best;
}

// Returns the nearest free place anywhere.
std::optional<PixelRect> bestAnywhere(const LabelRequest& request, const PixelRect& inside, double apart_px,
                                      const Occupancy& occupancy) {
  const Bounds bounds = boundsWithin(request.outline, inside);
  const glm::dvec2 from = (bounds.min + bounds.max) / 2.0;
  std::optional<PixelRect> best;
  double best_distance = std::numeric_limits<double>::infinity();
  for (double y = inside.top + apart_px; y + request.size_px.y + apart_px <= inside.bottom(); y += cell_px) {
    for (double x = inside.left + apart_px; x + request.size_px.x + apart_px <= inside.right();
         x += cell_px) {
      const PixelRect rect{x, y, request.size_px.x, request.size_px.y};
      const double distance = glm::distance(rect.middle(), from);
      if (distance >= best_distance || !occupancy.isFree(widened(rect, apart_px))) continue;
      best = rect;
      best_distance = distance;
    }
  }
  return best;
}

}  // namespace

std::vector<std::optional<LabelPlace>> placeLabels(const std::vector<LabelRequest>& requests,
                                                   const std::vector<std::vector<glm::dvec2>>& keep_clear,
                                                   const PixelRect& inside, double apart_px) {
  Occupancy occupancy(inside);
  for (const auto& outline : keep_clear) occupancy.markOutline(outline);
  for (const LabelRequest& request : requests) occupancy.markOutline(request.outline);
  std::vector<std::optional<LabelPlace>> places;
  bool full = false;
  for (const LabelRequest& request : requests) {
    std::optional<PixelRect> rect = bestAround(request, inside, apart_px, occupancy);
    if (!rect && !full) rect = bestAnywhere(request, inside, apart_px, occupancy);
    full = full || !rect;
    if (rect) occupancy.take(*rect);
    places.push_back(rect ? std::optional(LabelPlace{*rect, nearestOn(request.outline, rect->middle())})
                          : std::nullopt);
  }
  return places;
}

}  // namespace petalproof::report
