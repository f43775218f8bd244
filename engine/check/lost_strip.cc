#include "engine/check/lost_strip.h"

#include "engine/reading/working_picture.h"

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

// Of a difference by the linear rule; lightness rises faster than light where it is dark.
constexpr double share_of_linear = 0.5;

// The light-dark kernel of S-CIELAB (X. Zhang, B. A. Wandell, 1996): weights and spreads in degrees.
constexpr double eye_weights[] = {0.921, 0.105, -0.108};
constexpr double eye_spreads_deg[] = {0.0283, 0.133, 4.336};

// What is left in the middle of a strip `width_mm` wide.
double leftOfStrip(double width_mm, double mm_per_degree, double lens_spread_mm) {
  double sum = 0;
  double weights = 0;
  for (int k = 0; k < 3; ++k) {
    const double eye_mm = eye_spreads_deg[k] * mm_per_degree;
    const double spread = std::sqrt(eye_mm * eye_mm + lens_spread_mm * lens_spread_mm / 8);
    sum += eye_weights[k] * std::erf(width_mm / (2 * spread));
    weights += eye_weights[k];
  }
  return sum / weights;
}

double thresholdOf(const Reading& reading, Reads at_most, const ReadingThresholds& thresholds) {
  return at_most == Reads::lost ? std::max(thresholds.faint, reading.texture / 2)
                                : std::max(thresholds.shows, reading.texture);
}

bool readsMore(Reads reads, Reads at_most) {
  return reads == Reads::shows || (reads == Reads::faint && at_most == Reads::lost);
}

}  // namespace

double widestLostStrip_mm(const ShotCheck& shot, std::size_t number, Reads at_most,
                          const ReadingThresholds& thresholds) {
  if (number >= shot.readings.size()) return 0;
  const Gap& gap = shot.found.gaps[number];
  const Reading& reading = shot.readings[number];
  if (reading.difference <= 0 || gap.pixels <= 0) return gap.width_mm;
  const WorkingSize size = workingSizeOf(shot.camera, shot.viewing);
  const double pixel_mm = std::sqrt(gap.area_mm2 / static_cast<double>(gap.pixels));
  const double degree_mm = pixel_mm * shot.camera.width_px / size.width_px * size.pixels_per_degree;
  const auto left = [&](double width) { return leftOfStrip(width, degree_mm, shot.focus.wall_spread_mm); };
  const double most = share_of_linear * thresholdOf(reading, at_most, thresholds) / reading.difference *
                      left(gap.width_mm) * left(gap.length_mm);
  double low = 0;
  double high = gap.width_mm;
  for (int step = 0; step < 30; ++step) {
    const double middle = (low + high) / 2;
    (left(middle) < most ? low : high) = middle;
  }
  return readsMore(reading.reads, at_most) ? low : gap.width_mm;
}

}  // namespace petalproof
