#include "engine/check/lost_strip.h"

#include "engine/base/segment.h"
#include "engine/picture/working_picture.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace petalproof::check {
namespace {

// A strip differs by more than the linear rule says, by up to this: lightness rises faster than light where
// it is dark.
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

bool readsMore(reading::Reads reads, reading::Reads at_most) {
  return reads == reading::Reads::shows ||
         (reads == reading::Reads::faint && at_most == reading::Reads::lost);
}

// A hole's looks times these.
struct Change {
  double difference = 1;
  double width = 1;
  double area = 1;
  double length = 1;
};

reading::Reads changed(const reading::Reading& reading, const Change& change, const reading::Oddity& pieces,
                       const plan::ReadingThresholds& thresholds) {
  reading::PatchLooks looks = reading.looks;
  looks.difference *= change.difference;
  looks.area_arcmin2 *= change.area;
  looks.length_arcmin *= change.length;
  looks.stray_arcmin *= change.length;
  return readingOf(looks, change.width * reading.width_arcmin, pieces, thresholds).reads;
}

// Of the gaps of a gap's hole.
double widestOfHole(const gaps::GapsOfShot& found, const gaps::Gap& gap) {
  double widest = 0;
  for (const std::size_t k : found.holes[static_cast<std::size_t>(gap.hole) - 1].gaps)
    widest = std::max(widest, found.gaps[k].width_mm);
  return widest;
}

double distanceTo(const gaps::Gap& gap, glm::dvec2 place) {
  double least = glm::length(place - gap.centre_mm);
  for (std::size_t k = 1; k < gap.outline_mm.size(); ++k)
    least = std::min(least, distanceToSegment(place, gap.outline_mm[k - 1], gap.outline_mm[k]));
  return least;
}

BoardRect boundsOf(const gaps::Gap& gap) {
  BoardRect bounds{gap.centre_mm, gap.centre_mm};
  for (const glm::dvec2& p : gap.outline_mm) {
    bounds.min_mm = glm::min(bounds.min_mm, p);
    bounds.max_mm = glm::max(bounds.max_mm, p);
  }
  return bounds;
}

double squaredDistance(const BoardRect& box, glm::dvec2 place) {
  const glm::dvec2 outside = glm::max(glm::max(box.min_mm - place, place - box.max_mm), glm::dvec2(0));
  return glm::dot(outside, outside);
}

}  // namespace

double widestLostStrip_mm(const ShotCheck& shot, std::size_t number, reading::Reads at_most,
                          const plan::ReadingThresholds& thresholds) {
  if (number >= shot.found.gaps.size()) return 0;
  const gaps::Gap& gap = shot.found.gaps[number];
  const reading::Reading* const reading = readingOf(shot, gap);
  if (reading == nullptr || shot.pieces == nullptr) return 0;
  if (!readsMore(reading->reads, at_most) || gap.pixels <= 0) return gap.width_mm;
  const camera::WorkingSize size = camera::workingSizeOf(shot.camera, shot.viewing);
  const double pixel_mm = std::sqrt(gap.area_mm2 / static_cast<double>(gap.pixels));
  const double degree_mm = pixel_mm * shot.camera.width_px / size.width_px * size.pixels_per_degree;
  const auto left = [&](double width) { return leftOfStrip(width, degree_mm, shot.focus.wall_spread_mm); };
  const double of_gap = left(gap.width_mm) * left(gap.length_mm) * share_of_linear;
  double low = 0;
  double high = gap.width_mm;
  for (int step = 0; step < 12; ++step) {
    const double middle = (low + high) / 2;
    const double share = middle / gap.width_mm;
    const Change change{std::min(1.0, left(middle) / of_gap), share, share, std::sqrt(share)};
    (readsMore(changed(*reading, change, *shot.pieces, thresholds), at_most) ? high : low) = middle;
  }
  return low;
}

NearbyGaps::NearbyGaps(const std::vector<gaps::Gap>& gaps) : gaps_(&gaps) {
  for (const gaps::Gap& gap : gaps) bounds_.push_back(boundsOf(gap));
}

std::optional<NearestGap> NearbyGaps::nearest(glm::dvec2 place, double reach_mm) const {
  if (bounds_.empty()) return std::nullopt;
  // The one whose box is nearest is most likely it: then few others are worth a look at their outlines.
  std::size_t likely = 0;
  double nearest_box = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < bounds_.size(); ++k)
    if (const double box = squaredDistance(bounds_[k], place); box < nearest_box) {
      nearest_box = box;
      likely = k;
    }
  if (nearest_box > reach_mm * reach_mm) return std::nullopt;
  NearestGap nearest{likely, distanceTo((*gaps_)[likely], place)};
  for (std::size_t k = 0; k < bounds_.size(); ++k) {
    if (k == likely || squaredDistance(bounds_[k], place) > nearest.distance_mm * nearest.distance_mm)
      continue;
    const double distance = distanceTo((*gaps_)[k], place);
    if (distance < nearest.distance_mm || (distance == nearest.distance_mm && k < nearest.gap))
      nearest = {k, distance};
  }
  return nearest.distance_mm <= reach_mm ? std::optional(nearest) : std::nullopt;
}

LostStrips::LostStrips(const std::vector<ShotCheck>& shots, reading::Reads at_most,
                       const plan::ReadingThresholds& thresholds, double doubt)
    : at_most_(at_most), thresholds_(thresholds), doubt_(doubt) {
  for (const ShotCheck& shot : shots) {
    OfShot of{&shot, NearbyGaps(shot.found.gaps), {}};
    for (std::size_t gap = 0; gap < shot.found.gaps.size(); ++gap)
      of.widths_mm.push_back(std::max(speck_mm, widestLostStrip_mm(shot, gap, at_most, thresholds)));
    shots_.push_back(std::move(of));
  }
}

double LostStrips::mayStay_mm(std::size_t shot, const gaps::Gap& gap) const {
  const OfShot& of = shots_[shot];
  const auto planned = of.gaps.nearest(gap.centre_mm, std::numeric_limits<double>::infinity());
  return planned ? of.widths_mm[planned->gap] : speck_mm;
}

// A difference goes with the fourth root of the width: so it was found, to a good approximation, in 2000 gaps
// of builds of the demo, filled and not, and of other walls that were read one by one. Farther away other
// blooms lie beside a gap: with those told by, a third more were missed.
bool LostStrips::wouldBeNoticed(std::size_t shot, const gaps::GapsOfShot& seen, const gaps::Gap& gap) const {
  constexpr double alike_mm = 60;
  const OfShot& of = shots_[shot];
  const auto planned = of.gaps.nearest(gap.centre_mm, alike_mm);
  if (!planned) return true;
  const gaps::Gap& like = of.shot->found.gaps[planned->gap];
  const reading::Reading* const reading = readingOf(*of.shot, like);
  if (reading == nullptr || of.shot->pieces == nullptr) return true;
  const double size = widestOfHole(seen, gap) / widestOfHole(of.shot->found, like);
  const Change change{doubt_ * std::sqrt(std::sqrt(size)), size, size * size, size};
  return readsMore(changed(*reading, change, *of.shot->pieces, thresholds_), at_most_);
}

}  // namespace petalproof::check
