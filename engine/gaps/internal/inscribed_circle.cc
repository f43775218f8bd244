#include "engine/gaps/internal/inscribed_circle.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

namespace petalproof::gaps {
namespace {

// Steps' lengths on the board are computed for each block of so many pixels each way.
constexpr int block = 16;
// At most so many places are measured exactly; only large ragged regions have more that are worth it.
constexpr std::size_t most_looks = 1000;
// Of a circle to where it has more room.
constexpr int most_moves = 1000;

Steps stepsAt(const BoardMapping& mapping, double x, double y) {
  const Footprint pixel = mapping.footprintAt({x, y});
  const glm::dvec2 across = 2.0 * pixel.half_across_mm;
  const glm::dvec2 down = 2.0 * pixel.half_down_mm;
  const auto length = [](glm::dvec2 v) { return static_cast<float>(glm::length(v)); };
  return {length(across), length(down), length(across + down), length(across - down)};
}

// Distances of pixels to the outside by steps from neighbour to neighbour, never shorter than the straight
// way (G. Borgefors, "Distance transformations in digital images", 1986). A shortest way takes steps of two
// kinds at most, in any order: those along a row first, so that a row is done from the one before and from
// the ends of its runs, without waiting for its own pixels. One pixel of outside all around.
class StepDistances {
 public:
  StepDistances(const PixelRegion& region, const BoardMapping& mapping, CircleScratch& memory)
      : region_(region),
        pitch_(region.width() + 2),
        blocks_a_row_((region.width() - 1) / block + 1),
        distances_(memory.distances),
        steps_(memory.steps) {
    takeSteps(mapping);
    distances_.assign(static_cast<std::size_t>(pitch_) * static_cast<std::size_t>(region.height() + 2), 0.0F);
    const auto runs = region.runs();
    for (auto run = runs.begin(); run != runs.end(); ++run) comeDown(*run);
    for (auto run = runs.rbegin(); run != runs.rend(); ++run) goUp(*run);
  }
  // The distances of a row's pixels, from the region's left on.
  const float* row(int y) const { return &distances_[offset(region_.left(), y)]; }

 private:
  std::size_t offset(int x, int y) const {
    return static_cast<std::size_t>(y - region_.top() + 1) * static_cast<std::size_t>(pitch_) +
           static_cast<std::size_t>(x - region_.left() + 1);
  }
  void takeSteps(const BoardMapping& mapping) {
    steps_.clear();
    for (int y = 0; y < region_.height(); y += block)
      for (int x = 0; x < region_.width(); x += block)
        steps_.push_back(stepsAt(mapping, region_.left() + x + 0.5 * block, region_.top() + y + 0.5 * block));
  }
  // Calls `visit` with the stretches [x, end) of a run that lie in one block each, counted from the
  // region's left.
  template <class Visit>
  void forEachStretch(const Run& run, const Visit& visit) const {
    const Steps* row_steps = &steps_[static_cast<std::size_t>((run.row - region_.top()) / block) *
                                     static_cast<std::size_t>(blocks_a_row_)];
    const int end = run.end - region_.left();
    for (int x = run.begin - region_.left(); x < end;) {
      const int stop = std::min(end, (x / block + 1) * block);
      visit(row_steps[x / block], x, stop);
      x = stop;
    }
  }
  // From above and from both ends of the run.
  void comeDown(const Run& run) {
    float* row_here = &distances_[offset(region_.left(), run.row)];
    float to_right = 0;
    forEachStretch(run, [&](const Steps& steps, int x, int end) {
      to_right += steps.across * static_cast<float>(end - x);
    });
    float from_left = 0;
    forEachStretch(run, [&](const Steps& steps, int x, int end) {
      float* __restrict here = row_here + x;
      const float* above = here - pitch_;
      const int count = end - x;
      for (int k = 0; k < count; ++k) {
        const float by_above = std::min(above[k] + steps.down,
                                        std::min(above[k - 1] + steps.falling, above[k + 1] + steps.rising));
        const float along = static_cast<float>(k) * steps.across;
        here[k] = std::min(by_above, std::min(from_left + steps.across + along, to_right - along));
      }
      from_left += steps.across * static_cast<float>(count);
      to_right -= steps.across * static_cast<float>(count);
    });
  }
  void goUp(const Run& run) {
    float* row_here = &distances_[offset(region_.left(), run.row)];
    forEachStretch(run, [&](const Steps& steps, int x, int end) {
      float* __restrict here = row_here + x;
      const float* below = here + pitch_;
      for (int k = 0; k < end - x; ++k)
        here[k] = std::min(std::min(here[k], below[k] + steps.down),
                           std::min(below[k + 1] + steps.falling, below[k - 1] + steps.rising));
    });
  }

  const PixelRegion& region_;
  std::ptrdiff_t pitch_;
  int blocks_a_row_;
  std::vector<float>& distances_;
  std::vector<Steps>& steps_;
};

double squaredLength(glm::dvec2 v) { return v.x * v.x + v.y * v.y; }

// Whether neither the pixel nor its two neighbours in the row belong to the region.
bool isAlone(const std::uint8_t* pixel) { return (pixel[-1] | pixel[0] | pixel[1]) == 0; }

// The pixels beside the region: at the ends of its runs, and above and below where they aren't beside an end.
void collectBorder(const PixelRegion& region, const BoardMapping& mapping, std::vector<Footprint>& border) {
  border.clear();
  const auto add = [&](int x, int y) { border.push_back(mapping.footprintAt({x + 0.5, y + 0.5})); };
  for (const Run& run : region.runs()) {
    add(run.begin - 1, run.row);
    add(run.end, run.row);
    const std::uint8_t* above = region.row(run.row - 1);
    const std::uint8_t* below = region.row(run.row + 1);
    for (int x = run.begin - region.left(); x < run.end - region.left(); ++x) {
      if (isAlone(above + x)) add(x + region.left(), run.row - 1);
      if (isAlone(below + x)) add(x + region.left(), run.row + 1);
    }
  }
}

// Moves a pixel to the front, where the pixels that were nearest last are kept.
void moveAhead(std::vector<Footprint>& border, Footprint& pixel) {
  constexpr std::ptrdiff_t kept = 4;
  if (&pixel - border.data() < kept) return;
  std::rotate(border.begin(), border.begin() + kept - 1, border.begin() + kept);
  std::swap(pixel, border.front());
}

// The distance from a place to the nearest pixel beside the region, or any distance of at most `needed` that
// is found first. The pixel at that distance moves ahead: it most likely is in the way of the next place,
// too.
double clearance(std::vector<Footprint>& border, double largest_radius, glm::dvec2 place, double needed) {
  double nearest = std::numeric_limits<double>::infinity();
  double worth_a_look2 = nearest;
  for (Footprint& pixel : border) {
    const glm::dvec2 between = pixel.centre_mm - place;
    if (squaredLength(between) >= worth_a_look2) continue;
    const double distance = pixel.distanceAlong(between);
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

// The first greatest of `count` values, at least 1.
int firstGreatest(const float* values, int count) {
  constexpr std::size_t lanes = 8;
  std::array<float, lanes> greatest;
  greatest.fill(0);
  const float* const end = values + count;
  const float* eight = values;
  for (; end - eight >= static_cast<std::ptrdiff_t>(lanes); eight += lanes)
    for (std::size_t j = 0; j < lanes; ++j) greatest[j] = std::max(greatest[j], eight[j]);
  for (; eight < end; ++eight) greatest[0] = std::max(greatest[0], *eight);
  const float most = *std::max_element(greatest.begin(), greatest.end());
  return static_cast<int>(std::find(values, end, most) - values);
}

// The pixel that is farthest from the outside by steps, the first of equals.
PixelRoom farthestInside(const PixelRegion& region, const StepDistances& distances, double border_radius) {
  PixelRoom first;
  float farthest = -1;
  for (const Run& run : region.runs()) {
    const float* steps = distances.row(run.row) + (run.begin - region.left());
    const int k = firstGreatest(steps, run.end - run.begin);
    if (steps[k] <= farthest) continue;
    farthest = steps[k];
    first = {run.begin + k, run.row, farthest - border_radius};
  }
  return first;
}

// The pixels that are farther than `least_mm` from the outside by steps.
void collectFarther(const PixelRegion& region, const StepDistances& distances, double least_mm,
                    double border_radius, std::vector<PixelRoom>& found) {
  found.clear();
  for (const Run& run : region.runs()) {
    const float* steps = distances.row(run.row);
    for (int x = run.begin; x < run.end; ++x)
      if (steps[x - region.left()] > least_mm)
        found.push_back({x, run.row, steps[x - region.left()] - border_radius});
  }
}

// The largest circle about a pixel's middle, to within `enough`. Steps give an upper bound for each pixel;
// the most promising pixels are looked at first.
Circle largestAtPixel(const PixelRegion& region, const BoardMapping& mapping, double enough,
                      double largest_radius, CircleScratch& scratch) {
  const StepDistances distances(region, mapping, scratch);
  Circle best;
  const auto look = [&](const PixelRoom& pixel) {
    const glm::dvec2 place = mapping.board({pixel.x + 0.5, pixel.y + 0.5});
    const double room = clearance(scratch.border, largest_radius, place, best.radius_mm);
    if (room > best.radius_mm) best = {place, room};
  };
  const double border_radius = enough * 2;  // of the smallest pixel beside the region, at least
  look(farthestInside(region, distances, border_radius));
  auto& promising = scratch.promising;
  collectFarther(region, distances, best.radius_mm + enough + border_radius, border_radius, promising);
  const std::size_t looks = std::min(promising.size(), most_looks);
  std::partial_sort(promising.begin(), promising.begin() + static_cast<std::ptrdiff_t>(looks),
                    promising.end());
  for (std::size_t k = 0; k < looks && promising[k].at_most_mm > best.radius_mm + enough; ++k)
    look(promising[k]);
  return best;
}

// The pixels beside the region that may be nearest to a place within `reach` of the circle's middle.
void collectNear(const std::vector<Footprint>& border, const Circle& circle, double reach,
                 std::vector<Footprint>& near) {
  near.clear();
  const double most = circle.radius_mm + 2 * reach;
  for (const Footprint& pixel : border)
    if (pixel.distanceAlong(pixel.centre_mm - circle.middle_mm) <= most) near.push_back(pixel);
}

// Moves a circle to where it can be larger, with steps halved down to `finest`, in at most `most_moves`: a few
// do, but where a picture sees the board at a grazing angle the region's farthest pixels are thousands of times
// as large as its nearest, from which `finest` comes; the circle is right to within a pixel from the start.
Circle climbed(Circle circle, double largest_radius, double step, double finest, CircleScratch& scratch) {
  static constexpr double diagonal = 0.70710678118654752;
  static constexpr double directions[8][2] = {
      {1, 0},  {diagonal, diagonal},   {0, 1},  {-diagonal, diagonal},
      {-1, 0}, {-diagonal, -diagonal}, {0, -1}, {diagonal, -diagonal}};
  const double reach = 3 * step;
  collectNear(scratch.border, circle, reach, scratch.near);
  glm::dvec2 known_around = circle.middle_mm;
  for (int moves = 0; step > finest && moves < most_moves; ++moves) {
    if (glm::distance(circle.middle_mm, known_around) + step > reach) {
      collectNear(scratch.border, circle, reach, scratch.near);
      known_around = circle.middle_mm;
    }
    Circle best = circle;
    for (const auto& direction : directions) {
      const glm::dvec2 next = circle.middle_mm + step * glm::dvec2(direction[0], direction[1]);
      const double room = clearance(scratch.near, largest_radius, next, best.radius_mm);
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
  const Circle best = climbed(at_pixel, largest_radius, fine / 2, fine / 10, scratch);
  return std::max(0.0, 2 * best.radius_mm);
}

}  // namespace petalproof::gaps
