#include "engine/filler/internal/allowance.h"

#include "engine/base/units.h"
#include "engine/filler/internal/silhouette.h"

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

// The largest disc about the axis that a mesh hides seen head-on, looked at in steps.
double innerRadius(const Mesh& mesh, double radius) {
  constexpr int directions = 48;
  constexpr int steps = 64;
  const Silhouette seen = silhouetteHeadOn(mesh, glm::mat4x3(1.0F));
  int least = steps;
  for (int k = 0; k < directions; ++k) {
    const double a = 2 * pi * k / directions;
    int step = 0;
    while (step < least && hides(seen, glm::dvec2(std::cos(a), std::sin(a)) * (radius * (step + 1) / steps)))
      ++step;
    least = step;
  }
  return radius * least / steps;
}

double innerRadius(const FillerKind& kind) {
  double least = kind.diameter_mm / 2;
  for (const Mesh& copy : kind.copies) least = std::min(least, innerRadius(copy, kind.diameter_mm / 2));
  return least;
}

glm::dvec2 ofRound(const FillerKind& kind, double shift, double smaller) {
  const double inner = innerRadius(kind);
  if (inner <= 0) return glm::dvec2(0);
  return glm::dvec2(std::max(0.0, (inner - std::hypot(shift, smaller * inner)) / inner));
}

// Along: to where the outline, lowered by the shift and by what turning lifts the leaf aside, ends; across:
// as wide as a parabola may be that stays below that.
glm::dvec2 ofGreenery(const FillerKind& kind, double shift, double smaller, double turn) {
  const double half_width = kind.width_mm / 2;
  const double aside = kind.diameter_mm / 2 * std::sin(std::min(turn, pi / 2));
  const double lowered = half_width - std::hypot(shift, smaller * half_width);
  if (lowered <= 0) return glm::dvec2(0);
  const double end = (std::sqrt(aside * aside + 4 * half_width * lowered) - aside) / (2 * half_width);
  return {std::max(0.0, (lowered - aside * end / 4) / half_width), std::min(1.0, end)};
}

}  // namespace

Allowance allowanceOf(const FillerMaker& maker, const HandErrors& errors, double deviations) {
  const double shift = deviations * std::hypot(errors.place_mm, errors.hang_mm);
  const double smaller = deviations * errors.bloom_size;
  Allowance allowance;
  for (const FillerKind& kind : maker.kinds())
    allowance.left.push_back(kind.greenery
                                 ? ofGreenery(kind, shift, smaller, radians(deviations * errors.turn_deg))
                                 : ofRound(kind, shift, smaller));
  return allowance;
}

}  // namespace petalproof
