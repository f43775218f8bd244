#include "engine/candidates/must_hide.h"

#include "engine/camera/projection.h"
#include "engine/candidates/pixels_of_gap.h"
#include "engine/check/lost_strip.h"

#include <glm/mat3x3.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace petalproof::candidates {
namespace {

// What is left of a gap may lie between the grid's lines; larger ones have places on it.
constexpr double smallest_by_grid_mm2 = 400;

struct Frame {
  glm::dmat3 pixelFromBoard;
  int width_px;
  int height_px;
};

struct Pixel {
  int x = -1;
  int y = -1;
  bool in_frame = false;
};

Pixel pixelOf(const Frame& frame, glm::dvec2 place) {
  const glm::dvec3 p = frame.pixelFromBoard * glm::dvec3(place, 1.0);
  if (p.z <= 0) return {};
  const double u = std::floor(p.x / p.z);
  const double v = std::floor(p.y / p.z);
  if (!(u >= 0 && v >= 0 && u < frame.width_px && v < frame.height_px)) return {};
  return {static_cast<int>(u), static_cast<int>(v), true};
}

BoardRect boundsOf(const gaps::Gap& gap) {
  BoardRect bounds{glm::dvec2(1e300), glm::dvec2(-1e300)};
  for (const glm::dvec2& p : gap.outline_mm) {
    bounds.min_mm = glm::min(bounds.min_mm, p);
    bounds.max_mm = glm::max(bounds.max_mm, p);
  }
  const glm::dvec2 margin(
      std::sqrt(gap.area_mm2 / std::max<double>(1.0, static_cast<double>(gap.pixels))) * 4 + 1);
  return {bounds.min_mm - margin, bounds.max_mm + margin};
}

// Whether all that is seen within `rim` of the place is of the gap, or bare of another.
bool farFromRim(const Frame& frame, const PlaceGrid& grid, int column, int row, double rim,
                const PixelsOfGap& pixels) {
  const int reach = static_cast<int>(rim / grid.pitch_mm) + 2;
  const glm::dvec2 middle{grid.x.at(column), grid.y.at(row)};
  for (int r = std::max(0, row - reach); r <= std::min(grid.y.count() - 1, row + reach); ++r)
    for (int c = std::max(0, column - reach); c <= std::min(grid.x.count() - 1, column + reach); ++c) {
      const glm::dvec2 place{grid.x.at(c), grid.y.at(r)};
      if (std::hypot(place.x - middle.x, place.y - middle.y) > rim) continue;
      const Pixel pixel = pixelOf(frame, place);
      if (pixel.in_frame && !pixels.has(pixel.x, pixel.y)) return false;
    }
  return true;
}

// One place in each square millimetre is enough.
void addThinned(std::vector<glm::dvec2>& places, std::set<std::pair<int, int>>& known, glm::dvec2 place) {
  const std::pair<int, int> cell(static_cast<int>(std::floor(place.x)),
                                 static_cast<int>(std::floor(place.y)));
  if (known.insert(cell).second) places.push_back(place);
}

}  // namespace

bool Eye::any() const {
  return !others.empty() ||
         std::any_of(places.bits.begin(), places.bits.end(), [](std::uint64_t word) { return word != 0; });
}

std::int64_t MustHide::pairs() const {
  std::int64_t sum = 0;
  for (const Eye& eye : eyes) {
    sum += static_cast<std::int64_t>(eye.others.size());
    for (const std::uint64_t word : eye.places.bits) sum += __builtin_popcountll(word);
  }
  return sum;
}

bool mustHide(Hide hide, const check::ShotCheck& shot, const gaps::Gap& gap) {
  if (hide == Hide::all) return true;
  const reading::Reading* const reading = check::readingOf(shot, gap);
  if (reading == nullptr) return false;
  return reading->reads == reading::Reads::shows ||
         (hide == Hide::faint && reading->reads == reading::Reads::faint);
}

reading::Reads mostLeft(Hide hide) {
  return hide == Hide::shows ? reading::Reads::faint : reading::Reads::lost;
}

double lostRim_mm(const check::ShotCheck& shot, std::size_t number, Hide hide,
                  const plan::ReadingThresholds& thresholds) {
  if (hide == Hide::all) return 0;
  return std::min(check::widestLostStrip_mm(shot, number, mostLeft(hide), thresholds),
                  widest_rim_share * shot.found.gaps[number].width_mm);
}

std::uint32_t MustHideCollector::eyeAt(const glm::dvec3& at) {
  for (std::size_t k = 0; k < found_.eyes.size(); ++k)
    if (found_.eyes[k].at == at) return static_cast<std::uint32_t>(k);
  Eye eye;
  eye.at = at;
  eye.places = PlaceBits(0, 0, grid_.x.count(), grid_.y.count());
  found_.eyes.push_back(std::move(eye));
  return static_cast<std::uint32_t>(found_.eyes.size() - 1);
}

void MustHideCollector::add(const check::ShotCheck& shot, const visibility::PixelMask& bare, bool rim) {
  const std::uint32_t eye = eyeAt(shot.camera.position.mm);
  for (std::size_t gap = 0; gap < shot.found.gaps.size(); ++gap)
    if (mustHide(hide_, shot, shot.found.gaps[gap])) addGap(shot, gap, eye, rim);
  if (hide_ == Hide::all && shot.found.specks.count > 0) addSpecks(shot, bare, eye);
  ++shots_;
}

void MustHideCollector::addGap(const check::ShotCheck& shot, std::size_t number, std::uint32_t eye,
                               bool rim) {
  const gaps::Gap& gap = shot.found.gaps[number];
  const double rim_mm = rim ? lostRim_mm(shot, number, hide_, thresholds_) : 0;
  const Frame frame{pixelFromBoard(shot.camera), shot.camera.width_px, shot.camera.height_px};
  const PixelsOfGap pixels(gap);
  const BoardRect bounds = boundsOf(gap);
  bool any = false;
  for (int row = grid_.y.firstFrom(bounds.min_mm.y); row < grid_.y.firstFrom(bounds.max_mm.y); ++row)
    for (int column = grid_.x.firstFrom(bounds.min_mm.x); column < grid_.x.firstFrom(bounds.max_mm.x);
         ++column) {
      const Pixel pixel = pixelOf(frame, {grid_.x.at(column), grid_.y.at(row)});
      if (!pixel.in_frame || !pixels.has(pixel.x, pixel.y)) continue;
      if (rim_mm > 0 && !farFromRim(frame, grid_, column, row, rim_mm, pixels)) continue;
      any = true;
      found_.eyes[eye].places.set(column, row);
      found_.gaps.push_back({grid_.place(column, row), eye, shots_, static_cast<std::uint32_t>(number)});
    }
  if (!any || (!rim && gap.area_mm2 < smallest_by_grid_mm2)) addPixels(shot, gap, eye);
}

void MustHideCollector::addPixels(const check::ShotCheck& shot, const gaps::Gap& gap, std::uint32_t eye) {
  std::set<std::pair<int, int>> known;
  for (const gaps::Run& run : gap.runs)
    for (const double x : {run.begin + 0.5, (run.begin + run.end) / 2.0, run.end - 0.5})
      if (const auto place = camera::boardPointOf(shot.camera, {{x, run.row + 0.5}}))
        addThinned(found_.eyes[eye].others, known, place->mm);
}

void MustHideCollector::addSpecks(const check::ShotCheck& shot, const visibility::PixelMask& bare,
                                  std::uint32_t eye) {
  std::vector<gaps::Run> runs;
  for (const gaps::Gap& gap : shot.found.gaps) runs.insert(runs.end(), gap.runs.begin(), gap.runs.end());
  std::sort(runs.begin(), runs.end(), [](const gaps::Run& a, const gaps::Run& b) {
    return std::pair(a.row, a.begin) < std::pair(b.row, b.begin);
  });
  std::set<std::pair<int, int>> known;
  std::size_t next = 0;
  for (int y = 0; y < bare.height_px; ++y)
    for (int x = 0; x < bare.width_px; ++x) {
      if (!bare.has(x, y)) continue;
      while (next < runs.size() && std::pair(runs[next].row, runs[next].end) <= std::pair(y, x)) ++next;
      if (next < runs.size() && runs[next].row == y && runs[next].begin <= x) continue;
      if (const auto place = camera::boardPointOf(shot.camera, {{x + 0.5, y + 0.5}}))
        addThinned(found_.eyes[eye].others, known, place->mm);
    }
}

void join(MustHide& to, const MustHide& more) {
  for (std::size_t k = 0; k < to.eyes.size() && k < more.eyes.size(); ++k) {
    std::vector<std::uint64_t>& bits = to.eyes[k].places.bits;
    for (std::size_t w = 0; w < bits.size(); ++w) bits[w] |= more.eyes[k].places.bits[w];
    std::vector<glm::dvec2>& others = to.eyes[k].others;
    std::set<std::pair<double, double>> known;
    for (const glm::dvec2& place : others) known.emplace(place.x, place.y);
    for (const glm::dvec2& place : more.eyes[k].others)
      if (known.emplace(place.x, place.y).second) others.push_back(place);
  }
}

}  // namespace petalproof::candidates
