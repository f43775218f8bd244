#include "engine/gaps/internal/inscribed_circle.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

namespace petalproof {
namespace {

// Lengths of steps on the board are taken anew after this many pixels of a row.
constexpr int pixels_a_metric = 16;
// Places worth an exact look, at most; only large ragged regions have more.
constexpr std::size_t most_looks = 1000;

// How long the steps to a pixel's neighbours are on the board.
struct Steps {
  float across, down, falling, rising;
};

Steps stepsAt(const BoardMapping& mapping, int x, int y) {
  const Footprint pixel = mapping.footprintAt({x + 0.5, y + 0.5});
  const glm::dvec2 across = 2.0 * pixel.half_across_mm;
  const glm::dvec2 down = 2.0 * pixel.half_down_mm;
  const auto length = [](glm::dvec2 v) { return static_cast<float>(glm::length(v)); };
  return {length(across), length(down), length(across + down), length(across - down)};
}

// Distances of pixels to the outside by steps from neighbour to neighbour, never shorter than the straight
// way (G. Borgefors, "Distance transformations in digital images", 1986). One pixel of outside all around.
class StepDistances {
 public:
  StepDistances(const PixelRegion& region, const BoardMapping& mapping, std::vector<float>& memory)
      : region_(region), mapping_(mapping), pitch_(region.width() + 2), distances_(memory) {
    distances_.assign(static_cast<std::size_t>(pitch_) * static_cast<std::size_t>(region.height() + 2), 0.0F);
    const auto runs = region.runs();
    for (auto run = runs.begin(); run != runs.end(); ++run) comeDown(*run);
    for (auto run = runs.rbegin(); run != runs.rend(); ++run) goUp(*run);
  }
  // Of a row's pixels, from the region's left on.
  const float* row(int y) const { return &distances_[offset(region_.left(), y)]; }

 private:
  std::size_t offset(int x, int y) const {
    return static_cast<std::size_t>(y - region_.top() + 1) * static_cast<std::size_t>(pitch_) +
           static_cast<std::size_t>(x - region_.left() + 1);
  }
  void comeDown(const Run& run) {
    float* here = &distances_[offset(run.begin, run.row)];
    Steps steps{};
    for (int x = run.begin; x < run.end; ++x, ++here) {
      if ((x - run.begin) % pixels_a_metric == 0) steps = stepsAt(mapping_, x, run.row);
      const float* above = here - pitch_;
      *here = std::min(std::min(here[-1] + steps.across, above[0] + steps.down),
                       std::min(above[-1] + steps.falling, above[1] + steps.rising));
    }
  }
  void goUp(const Run& run) {
    float* here = &distances_[offset(run.end - 1, run.row)];
    Steps steps{};
    for (int x = run.end - 1; x >= run.begin; --x, --here) {
      if ((run.end - 1 - x) % pixels_a_metric == 0) steps = stepsAt(mapping_, x, run.row);
      const float* below = here + pitch_;
      const float by_below =
          std::min(below[0] + steps.down, std::min(below[1] + steps.falling, below[-1] + steps.rising));
      *here = std::min(*here, std::min(here[1] + steps.across, by_below));
    }
  }

  const PixelRegion& region_;
  const BoardMapping& mapping_;
  std::ptrdiff_t pitch_;
  std::vector<float>& distances_;
};

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

// Keeps the few that were in the way last at the front.
void moveAhead(std::vector<Footprint>& border, Footprint& pixel) {
  constexpr std::ptrdiff_t kept = 4;
  if (&pixel - border.data() < kept) return;
  std::rotate(border.begin(), border.begin() + kept - 1, border.begin() + kept);
  std::swap(pixel, border.front());
}

// From a place to the nearest pixel beside the region; looks no further once it isn't more than `needed`. The
// pixel that told so moves ahead: it most likely is in the way of the next place, too.
double clearance(std::vector<Footprint>& border, double largest_radius, glm::dvec2 place, double needed) {
  double nearest = std::numeric_limits<double>::infinity();
  double worth_a_look2 = nearest;
  for (Footprint& pixel : border) {
    const glm::dvec2 between = pixel.centre_mm - place;
    if (squaredLength(between) >= worth_a_look2) continue;
    const double distance = std::sqrt(squaredLength(between)) - pixel.radiusTowards(between);
    if (distance >= nearest) continue;
    nearest = distance;
    if (nearest <= needed) {
      moveAhead(border, pixel);
      return nearest;
    }
    const double looked_at = std::max(0.0, nearest + largest_radius);
    worth_a_look2 = looked_at * looked_at;
  }
  return nearest;
}

struct Circle {
  glm::dvec2 middle_mm{0};
  double radius_mm = -1;
};

// The pixel that is farthest from the outside by steps, the first of equals.
PixelRoom farthestInside(const PixelRegion& region, const StepDistances& distances, double border_radius) {
  PixelRoom first{region.runs().front().begin, region.runs().front().row, 0};
  float farthest = -1;
  for (const Run& run : region.runs()) {
    const float* steps = distances.row(run.row);
    for (int x = run.begin; x < run.end; ++x) {
      if (steps[x - region.left()] <= farthest) continue;
      farthest = steps[x - region.left()];
      first = {x, run.row, farthest - border_radius};
    }
  }
  return first;
}

// The circle with most room whose middle is a pixel's, to `enough`. Steps give an upper bound of each one's
// room; the most promising are looked at first.
Circle largestAtPixel(const PixelRegion& region, const BoardMapping& mapping, double enough,
                      double largest_radius, CircleScratch& scratch) {
  const StepDistances distances(region, mapping, scratch.distances);
  Circle best;
  const auto look = [&](const PixelRoom& pixel) {
    const glm::dvec2 place = mapping.board({pixel.x + 0.5, pixel.y + 0.5});
    const double room = clearance(scratch.border, largest_radius, place, best.radius_mm);
    if (room > best.radius_mm) best = {place, room};
  };
  const double border_radius = enough * 2;  // of the smallest pixel beside the region, at least
  look(farthestInside(region, distances, border_radius));
  auto& promising = scratch.promising;
  promising.clear();
  for (const Run& run : region.runs()) {
    const float* steps = distances.row(run.row);
    for (int x = run.begin; x < run.end; ++x)
      if (steps[x - region.left()] - border_radius > best.radius_mm + enough)
        promising.push_back({x, run.row, steps[x - region.left()] - border_radius});
  }
  const std::size_t looks = std::min(promising.size(), most_looks);
  std::partial_sort(promising.begin(), promising.begin() + static_cast<std::ptrdiff_t>(looks),
                    promising.end());
  for (std::size_t k = 0; k < looks && promising[k].at_most_mm > best.radius_mm + enough; ++k)
    look(promising[k]);
  return best;
}

// Moves a circle to where it has more room, with steps halved down to `finest`.
Circle climbed(std::vector<Footprint>& border, double largest_radius, Circle circle, double step,
               double finest) {
  static constexpr double diagonal = 0.70710678118654752;
  static constexpr double directions[8][2] = {
      {1, 0},  {diagonal, diagonal},   {0, 1},  {-diagonal, diagonal},
      {-1, 0}, {-diagonal, -diagonal}, {0, -1}, {diagonal, -diagonal}};
  while (step > finest) {
    Circle best = circle;
    for (const auto& direction : directions) {
      const glm::dvec2 next = circle.middle_mm + step * glm::dvec2(direction[0], direction[1]);
      const double room = clearance(border, largest_radius, next, best.radius_mm);
      if (room > best.radius_mm) best = {next, room};
    }
    // A step that hardly gains is the same as none, or a long ridge would be walked in tiny gains.
    if (best.radius_mm < circle.radius_mm + step / 16) step /= 2;
    circle = best;
  }
  return circle;
}

}  // namespace

double widthOf(const PixelRegion& region, const BoardMapping& mapping, const FootprintSizes& sizes,
               CircleScratch& scratch) {
  const double fine = sizes.smallest_mm;
  const double largest_radius = 0.505 * sizes.largest_mm;  // a little more, for rounding
  collectBorder(region, mapping, scratch.border);
  const Circle at_pixel = largestAtPixel(region, mapping, fine / 4, largest_radius, scratch);
  const Circle best = climbed(scratch.border, largest_radius, at_pixel, fine / 2, fine / 10);
  return std::max(0.0, 2 * best.radius_mm);
}

}  // namespace petalproof
