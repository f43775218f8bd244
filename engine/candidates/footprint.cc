#include "engine/candidates/footprint.h"

#include "engine/base/units.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof::candidates {
namespace {

constexpr int layers_each = 6;
constexpr double rounding_mm = 0.02;
constexpr double round_enough = 0.85;  // the least reach of a round outline, as a share of its greatest

// The part of a triangle between two heights, corner by corner.
template <class Visit>
void forEachCornerBetween(const glm::dvec3 (&triangle)[3], double low, double high, const Visit& visit) {
  for (int k = 0; k < 3; ++k) {
    const glm::dvec3& a = triangle[k];
    const glm::dvec3& b = triangle[(k + 1) % 3];
    if (a.z >= low && a.z <= high) visit(glm::dvec2(a));
    for (const double z : {low, high})
      if ((a.z < z) != (b.z < z)) visit(glm::dvec2(a + (b - a) * ((z - a.z) / (b.z - a.z))));
  }
}

double turnedBetween(double a, double b) { return std::abs(std::remainder(a - b, 2 * pi)); }

// The reach of a layer from the axis, by direction, in steps of half a degree.
class Outline {
 public:
  void add(glm::dvec2 corner) {
    const double angle = std::atan2(corner.y, corner.x);
    double& far = far_[static_cast<std::size_t>(std::lround(angle / step + steps)) % steps];
    far = std::max(far, glm::length(corner));
  }
  double radius() const { return *std::max_element(far_.begin(), far_.end()); }
  // The most reach along a direction with the layer turned by up to `turned`.
  double reach(double direction, double turned) const {
    double most = 0;
    for (std::size_t k = 0; k < steps; ++k) {
      if (far_[k] <= most) continue;
      const double off =
          std::max(0.0, turnedBetween(step * static_cast<double>(k), direction) - turned - step / 2);
      most = std::max(most, far_[k] * std::cos(off));
    }
    return most;
  }

 private:
  static constexpr std::size_t steps = 720;
  static constexpr double step = 2 * pi / steps;
  std::array<double, steps> far_{};
};

}  // namespace

double halfTurnOf(int level) { return pi / bins_all_round / (1 << level); }

FillerFootprint::FillerFootprint(const scene::FillerKind& kind, double sway) {
  double lowest = 0;
  double highest = 0;
  for (const scene::Mesh& copy : kind.copies)
    for (const glm::vec3& v : copy.vertices) {
      lowest = std::min(lowest, static_cast<double>(v.z));
      highest = std::max(highest, static_cast<double>(v.z));
    }
  for (std::size_t d = 0; d < directions; ++d) {
    const double a = 2 * pi * static_cast<double>(d) / directions;
    towards_[d] = {std::cos(a), std::sin(a)};
  }
  const double step = (highest - lowest) / layers_each;
  for (int k = 0; k < layers_each; ++k)
    addLayer(kind, lowest + k * step - rounding_mm, lowest + (k + 1) * step + rounding_mm, sway);
  double least = radius_;
  for (std::size_t d = 0; d < directions; ++d) {
    double most = 0;
    for (const Layer& layer : layers_) most = std::max(most, layer.reach.back()[d]);
    least = std::min(least, most);
  }
  is_round_ = least >= round_enough * radius_;
}

void FillerFootprint::addLayer(const scene::FillerKind& kind, double low_mm, double high_mm, double sway) {
  Outline outline;
  for (const scene::Mesh& copy : kind.copies)
    for (const auto& [a, b, c] : copy.triangles)
      forEachCornerBetween({copy.vertices[a], copy.vertices[b], copy.vertices[c]}, low_mm, high_mm,
                           [&](glm::dvec2 corner) { outline.add(corner); });
  Layer layer{low_mm, high_mm, outline.radius(), {}};
  if (layer.radius <= 0) return;
  for (int level = 0; level < turn_levels; ++level)
    for (int d = 0; d < directions; ++d)
      layer.reach[static_cast<std::size_t>(level)][static_cast<std::size_t>(d)] =
          outline.reach(2 * pi * d / directions, halfTurnOf(level) + sway);
  radius_ = std::max(radius_, layer.radius);
  layers_.push_back(layer);
}

bool FillerFootprint::mayHide(const FillerBin& bin, const SeenPlace& place) const {
  // A disc about the place is no larger at the filler's height, where the eye's rays draw together.
  const double open = bin.half_mm * std::sqrt(2.0) + place.around_mm + rounding_mm;
  const glm::dvec2 to_eye = glm::dvec2(place.eye) - place.at;
  for (const Layer& layer : layers_) {
    if (place.eye.z <= layer.high_mm) return true;
    // The ray at the layer's middle height, and how far from there it may be at the layer's other heights.
    const double middle = (layer.low_mm + layer.high_mm) / 2;
    const glm::dvec2 from = place.at + to_eye * (middle / place.eye.z) - bin.middle;
    const double grown_mm = open + glm::length(to_eye) * (layer.high_mm - middle) / place.eye.z;
    if (glm::length(from) > layer.radius + grown_mm) continue;
    if (is_round_ || !isOutside(layer.reach[static_cast<std::size_t>(bin.level)], from, bin.turn, grown_mm))
      return true;
  }
  return false;
}

// `from`: the place from the filler's axis, on the board plane. `grown_mm`: how far the outline is grown.
bool FillerFootprint::isOutside(const Reach& reach, glm::dvec2 from, double turn, double grown_mm) const {
  const glm::dvec2 along(std::sin(turn), std::cos(turn));
  const glm::dvec2 across(along.y, -along.x);
  const glm::dvec2 own(glm::dot(from, across), glm::dot(from, along));
  for (std::size_t d = 0; d < directions; ++d)
    if (glm::dot(own, towards_[d]) > reach[d] + grown_mm) return true;
  return false;
}

}  // namespace petalproof::candidates
