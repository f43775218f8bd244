#include "engine/gaps/internal/inscribed_circle.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace petalproof::gaps {
namespace {

// Lengths of steps on the board are computed for each block of so many pixels each way: within it they hardly
// differ.
constexpr int block = 16;
// Places looked at in a pixel lie as far apart as its shorter side, but are at most so many: beyond that a
// pixel is seen at less than 4 degrees, and its own place is hardly known.
constexpr int most_places = 16;
// Of a circle to places with more room; most circles take fewer than 20.
constexpr int most_moves = 1000;
// Of a move, as a share of its length: smaller gains end the moves of that length.
constexpr double least_gain = 1.0 / 64;

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
// the ends of its runs, without waiting for its own pixels. The grid has a pixel of outside all around.
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
  // Distances from above and from both ends of the run.
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
PixelRoom farthestInside(const PixelRegion& region, const StepDistances& distances) {
  PixelRoom first;
  for (const Run& run : region.runs()) {
    const float* steps = distances.row(run.row) + (run.begin - region.left());
    const int k = firstGreatest(steps, run.end - run.begin);
    if (steps[k] > first.at_most_mm) first = {run.begin + k, run.row, steps[k]};
  }
  return first;
}

// Half of a pixel's longer side.
double reachOf(const Steps& steps) { return 0.5 * std::max(steps.across, steps.down); }

// The pixels with places that may have more room than `least_mm`. `border_radius`: by so much at least the
// ellipses beside the region come nearer than their centres.
void collectPromising(const PixelRegion& region, const StepDistances& distances, double border_radius,
                      double least_mm, std::vector<PixelRoom>& found) {
  found.clear();
  for (const Run& run : region.runs()) {
    const float* by_steps = distances.row(run.row);
    distances.forEachStretch(run, [&](const Steps& steps, int begin, int end) {
      const double beyond_middle = reachOf(steps) - border_radius;
      for (int x = begin; x < end; ++x)
        if (by_steps[x] + beyond_middle > least_mm)
          found.push_back({x + region.left(), run.row, by_steps[x] + beyond_middle});
    });
  }
}

// Keeps the largest circle about the places that are looked at.
class PlaceSearch {
 public:
  PlaceSearch(const BoardMapping& mapping, RegionBorder& border) : mapping_(mapping), border_(border) {}
  const Circle& best() const { return best_; }
  // Looks at places spread evenly along the pixel's longer side.
  void look(const PixelRoom& pixel) {
    const glm::dvec2 middle(pixel.x + 0.5, pixel.y + 0.5);
    const Footprint footprint = mapping_.footprintAt(middle);
    const double across = glm::length(footprint.half_across_mm);
    const double down = glm::length(footprint.half_down_mm);
    const double reach = std::max(across, down);
    // A place's room is at most that of the middle and the way between.
    const double needed = best_.radius_mm - reach;
    if (lookAt(footprint.centre_mm, needed) <= needed) return;
    const int places = placesAlong(reach / footprint.smallestRadius());
    for (int k = 0; k < places; ++k) {
      const double along = (k + 0.5) / places - 0.5;
      lookAt(mapping_.board(middle + (across > down ? glm::dvec2(along, 0) : glm::dvec2(0, along))),
             best_.radius_mm);
    }
  }

 private:
  // By the ratio of a pixel's sides; up to 1.5 the middle is enough.
  static int placesAlong(double sides) {
    return sides < most_places ? static_cast<int>(std::ceil(sides - 0.5)) : most_places;
  }
  double lookAt(glm::dvec2 place, double needed) {
    const double room = border_.roomAt(place, needed);
    if (room > best_.radius_mm) best_ = {place, room};
    return room;
  }

  const BoardMapping& mapping_;
  RegionBorder& border_;
  Circle best_;
};

// The largest circle about a place in a pixel, to within `enough`. Steps give an upper bound for each pixel;
// pixels are looked at from the most promising on, until no bound is larger than the best circle.
Circle largestAtPlace(const PixelRegion& region, const BoardMapping& mapping, double enough,
                      CircleScratch& scratch) {
  const StepDistances distances(region, mapping, scratch);
  PlaceSearch search(mapping, scratch.border);
  search.look(farthestInside(region, distances));
  auto& promising = scratch.promising;
  const double border_radius = enough * 2;  // of the smallest pixel beside the region, at least
  collectPromising(region, distances, border_radius, search.best().radius_mm + enough, promising);
  const auto less_room = [](const PixelRoom& a, const PixelRoom& b) { return b < a; };
  std::make_heap(promising.begin(), promising.end(), less_room);
  while (!promising.empty() && promising.front().at_most_mm > search.best().radius_mm + enough) {
    search.look(promising.front());
    std::pop_heap(promising.begin(), promising.end(), less_room);
    promising.pop_back();
  }
  return search.best();
}

// Of the circles that are a step away in any of 16 directions the largest, if it is larger. Eight directions
// weren't enough: between pixels on several sides there is often more room in a narrow sector of ways only.
Circle largestBeside(const Circle& circle, double step, RegionBorder& border) {
  constexpr int turns = 4;
  static constexpr double first_quarter[4][2] = {{1, 0},
                                                 {0.92387953251128676, 0.38268343236508977},
                                                 {0.70710678118654752, 0.70710678118654752},
                                                 {0.38268343236508977, 0.92387953251128676}};
  Circle best = circle;
  for (const auto& direction : first_quarter) {
    glm::dvec2 way(direction[0], direction[1]);
    for (int turn = 0; turn < turns; ++turn, way = {-way.y, way.x}) {
      const glm::dvec2 place = circle.middle_mm + step * way;
      const double room = border.roomAt(place, best.radius_mm);
      if (room > best.radius_mm) best = {place, room};
    }
  }
  return best;
}

// Moves a circle to where it can be larger, with steps halved down to `finest`, in at most `most_moves`: a
// few do, but where a picture sees the board at a grazing angle the region's farthest pixels are thousands of
// times as large as its nearest, from which `finest` comes; the circle is right to within a pixel from the
// start.
Circle climbed(Circle circle, double step, double finest, RegionBorder& border) {
  for (int moves = 0; step > finest && moves < most_moves; ++moves) {
    const Circle best = largestBeside(circle, step, border);
    // A step that hardly gains is the same as none, or a long ridge would be walked in tiny gains.
    if (best.radius_mm < circle.radius_mm + least_gain * step) step /= 2;
    circle = best;
  }
  return circle;
}

}  // namespace

double widthOf(const PixelRegion& region, const BoardMapping& mapping, const FootprintSizes& sizes,
               CircleScratch& scratch) {
  const double fine = sizes.smallest_mm;
  scratch.border.assign(region, mapping);
  const Circle at_place = largestAtPlace(region, mapping, fine / 4, scratch);
  return std::max(0.0, 2 * climbed(at_place, fine / 2, fine / 10, scratch.border).radius_mm);
}

}  // namespace petalproof::gaps
