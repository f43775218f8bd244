#include "engine/reading/internal/patch_measure.h"

#include "engine/picture/disc.h"
#include "engine/picture/row_loops.h"
#include "engine/reading/internal/difference.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace petalproof::reading {
namespace {

constexpr int colours = 3;
constexpr int numbers = 4;  // a cell of the fill window: the colours and one more, for the processor's sake
constexpr float mostly = 0.5F;
constexpr int cell_sizes = 7;

std::size_t areaOf(int width, int height) {
  return static_cast<std::size_t>(width) * static_cast<std::size_t>(height);
}

void clear(std::array<std::vector<float>, 3>& planes, std::size_t pixels) {
  for (auto& plane : planes) plane.assign(pixels, 0);
}

// First and second moments of a mask by its shares, in pixels from its window's corner.
struct Moments {
  double sum = 0;
  glm::dvec2 mean{0};
  double xx = 0;
  double xy = 0;
  double yy = 0;
};

Moments momentsOf(const GapMask& mask) {
  Moments m;
  for (const MaskSpan& span : mask.spans)
    for (int x = span.begin; x < span.end; ++x) {
      const double share = mask.share[mask.offset(x, span.row)];
      const glm::dvec2 at(x + 0.5, span.row + 0.5);
      m.sum += share;
      m.mean += share * at;
      m.xx += share * at.x * at.x;
      m.xy += share * at.x * at.y;
      m.yy += share * at.y * at.y;
    }
  if (m.sum <= 0) return m;
  m.mean /= m.sum;
  m.xx = m.xx / m.sum - m.mean.x * m.mean.x;
  m.xy = m.xy / m.sum - m.mean.x * m.mean.y;
  m.yy = m.yy / m.sum - m.mean.y * m.mean.y;
  return m;
}

// Centre, size, and how long and straight a mask is, by its principal axis.
void addShape(const GapMask& mask, double pixels_per_degree, PatchLooks& looks) {
  const Moments moments = momentsOf(mask);
  if (moments.sum <= 0) return;
  const double angle = std::atan2(2 * moments.xy, moments.xx - moments.yy) / 2;
  const glm::dvec2 along(std::cos(angle), std::sin(angle));
  double low = std::numeric_limits<double>::max();
  double high = std::numeric_limits<double>::lowest();
  double stray = 0;
  for (const MaskSpan& span : mask.spans)
    for (const double x : {span.begin + 0.5, span.end - 0.5}) {
      const glm::dvec2 from = glm::dvec2(x, span.row + 0.5) - moments.mean;
      const double at = from.x * along.x + from.y * along.y;
      low = std::min(low, at);
      high = std::max(high, at);
      stray = std::max(stray, std::abs(from.x * along.y - from.y * along.x));
    }
  const double arcmin = 60 / pixels_per_degree;
  looks.centre_deg = (moments.mean + glm::dvec2(mask.left, mask.top)) / pixels_per_degree;
  looks.area_arcmin2 = moments.sum * arcmin * arcmin;
  looks.length_arcmin = (high - low + 1) * arcmin;
  looks.stray_arcmin = stray * arcmin;
}

// Mean colour and its variation, of a pixel in each cell.
void addColour(const GapMask& mask, const Planes& seen, int cell_px, PatchLooks& looks) {
  double weight = 0;
  glm::dvec3 sum(0);
  glm::dvec3 squares(0);
  const int first = cell_px / 2;
  for (const MaskSpan& span : mask.spans) {
    if ((mask.top + span.row - first) % cell_px != 0) continue;
    for (int x = span.begin; x < span.end; ++x) {
      if ((mask.left + x - first) % cell_px != 0) continue;
      const double share = mask.share[mask.offset(x, span.row)];
      const glm::dvec3 lab(labFromOpponent(seen.at(seen.offset(mask.left + x, mask.top + span.row))));
      weight += share;
      sum += share * lab;
      squares += share * lab * lab;
    }
  }
  if (weight <= 0) return;
  sum /= weight;
  squares = glm::max(squares / weight - sum * sum, glm::dvec3(0));
  looks.colour = glm::vec3(sum);
  looks.variation = std::sqrt(squares.x + squares.y + squares.z);
}

// What each cell gives to the mean of those beside it when its even light goes through a kernel of pixels:
// that kernel, weighed by how much of two cells overlaps at each distance.
std::vector<float> tapsOfCells(const std::vector<float>& taps, int cell_px) {
  const auto reach = static_cast<int>(taps.size()) - 1;
  std::vector<float> cells(static_cast<std::size_t>(reach / cell_px) + 2, 0.0F);
  for (std::size_t cell = 0; cell < cells.size(); ++cell)
    for (int d = -reach; d <= reach; ++d) {
      const int apart = std::abs(d - static_cast<int>(cell) * cell_px);
      if (apart >= cell_px) continue;
      cells[cell] += taps[static_cast<std::size_t>(std::abs(d))] * static_cast<float>(cell_px - apart) /
                     static_cast<float>(cell_px);
    }
  return cells;
}

}  // namespace

std::vector<EyeKernels> kernelsBySize(double pixels_per_degree) {
  const EyeKernels fine = eyeKernels(pixels_per_degree);
  std::vector<EyeKernels> kernels{fine};
  for (int size = 1; size < cell_sizes; ++size) {
    EyeKernels coarse = fine;
    coarse.radius_px = 0;
    for (auto& plane : coarse.planes)
      for (EyeGaussian& gaussian : plane) {
        gaussian.taps = tapsOfCells(gaussian.taps, 1 << size);
        coarse.radius_px = std::max(coarse.radius_px, static_cast<int>(gaussian.taps.size()) - 1);
      }
    kernels.push_back(std::move(coarse));
  }
  return kernels;
}

PatchLooks PatchMeasure::measure(const GapMask& mask, PatchOf of, double disc_px) {
  PatchLooks looks;
  addShape(mask, picture_.sharp.size.pixels_per_degree, looks);
  gatherPatch(picture_.sharp, picture_.wall, mask, of, window_);
  fill();
  findChange();
  const double disc = disc_px / window_.cell_px;
  const GrownMask around = grown(cells_, disc / 2);
  const int margin = std::max(picture::Disc(disc).reach(), around.margin);
  spread(disc, margin);
  see(around, margin);
  looks.difference = compare(around, margin);
  addColour(mask, picture_.seen, window_.cell_px, looks);
  return looks;
}

// Whether the cell takes what lies around the whole patch; else it takes what else lies in it.
bool PatchMeasure::isOwn(std::size_t cell) const {
  const PatchCell& of = window_.cells[cell];
  return of.share > mostly || (of.share > 0 && of.beside_share <= 0);
}

void PatchMeasure::fill() {
  filled_.reset(window_.width, window_.height, numbers);
  for (std::size_t k = 0; k < window_.cells.size(); ++k) filled_.wanted[k] = isOwn(k) ? 1 : 0;
  has_border_ = false;
  for (int y = 0; y < window_.height; ++y)
    for (int x = 0; x < window_.width; ++x) {
      const std::size_t k = window_.offset(x, y);
      if (filled_.wanted[k] != 0 || window_.cells[k].beside_share <= 0) continue;
      bool beside = false;
      for (int ny = std::max(0, y - 1); ny <= std::min(window_.height - 1, y + 1); ++ny)
        for (int nx = std::max(0, x - 1); nx <= std::min(window_.width - 1, x + 1); ++nx)
          beside = beside || filled_.wanted[window_.offset(nx, ny)] != 0;
      if (!beside) continue;
      for (int c = 0; c < colours; ++c) {
        filled_.lightOf(k)[c] = window_.cells[k].beside[c];
        filled_.knownOf(k)[c] = 1;
      }
      has_border_ = true;
    }
  if (has_border_) fill_.fill(filled_);
}

void PatchMeasure::findChange() {
  cells_.left = window_.left;
  cells_.top = window_.top;
  cells_.width = window_.width;
  cells_.height = window_.height;
  cells_.share.resize(window_.cells.size());
  cells_.spans.clear();
  clear(sharp_, window_.cells.size());
  for (int y = 0; y < window_.height; ++y)
    for (int x = 0; x < window_.width; ++x) {
      const std::size_t k = window_.offset(x, y);
      const PatchCell& cell = window_.cells[k];
      cells_.share[k] = cell.share;
      if (cell.share <= 0) continue;
      if (!cells_.spans.empty() && cells_.spans.back().row == y && cells_.spans.back().end == x)
        ++cells_.spans.back().end;
      else
        cells_.spans.push_back({y, x, x + 1});
      glm::vec3 fill = cell.beside;
      if (filled_.wanted[k] != 0) {
        const float* light = filled_.lightOf(k);
        fill = has_border_ ? glm::vec3(light[0], light[1], light[2]) : picture_.elsewhere;
      }
      const glm::vec3 added = opponentFromLinear(cell.share * (fill - cell.own));
      for (std::size_t p = 0; p < colours; ++p) sharp_[p][k] = added[static_cast<int>(p)];
    }
}

void PatchMeasure::spread(double disc_cells, int margin) {
  const picture::Disc disc(disc_cells);
  const int width = cells_.width + 2 * margin;
  clear(soft_, areaOf(width, cells_.height + 2 * margin));
  const int pad = margin + 1;
  row_.assign(static_cast<std::size_t>(width + 2 * pad), 0);
  sums_.resize(row_.size() + 1);
  for (std::size_t p = 0; p < colours; ++p)
    for (int y = 0; y < cells_.height; ++y) {
      std::copy_n(sharp_[p].data() + cells_.offset(0, y), cells_.width, row_.data() + margin + pad);
      picture::runningSums(row_.data(), 1, width + 2 * pad, sums_.data());
      for (int dy = -disc.reach(); dy <= disc.reach(); ++dy)
        picture::addChord(sums_.data(), 1, disc.halfChord(dy), pad, 1 / disc.area(),
                          soft_[p].data() + static_cast<std::ptrdiff_t>(y + margin + dy) * width, width);
    }
}

void PatchMeasure::see(const GrownMask& around, int margin) {
  const int width = cells_.width + 2 * margin;
  const int height = cells_.height + 2 * margin;
  wanted_.assign(static_cast<std::size_t>(height), {});
  const int beside = margin - around.margin;
  for (int y = 0; y < around.height; ++y) {
    int first = 0;
    int end = around.width;
    while (first < end && !around.has(first, y)) ++first;
    while (end > first && !around.has(end - 1, y)) --end;
    wanted_[static_cast<std::size_t>(y + beside)] = {first + beside, end + beside};
  }
  clear(added_, areaOf(width, height));
  std::size_t size = 0;
  while ((1 << size) < window_.cell_px) ++size;
  const EyeKernels& kernels = picture_.kernels[size];
  eye_.reset(width, height, 1, kernels.radius_px);
  for (std::size_t p = 0; p < colours; ++p)
    eye_.add(soft_[p].data(), kernels.planes[p], wanted_, added_[p].data());
}

// Mean over a cell's pixels, as far as they lie in the picture; false where none does.
bool PatchMeasure::addSeen(int x, int y) {
  const Planes& seen = picture_.seen;
  const int size = window_.cell_px;
  const int x0 = std::max(0, x * size);
  const int y0 = std::max(0, y * size);
  const int x1 = std::min(seen.width_px, (x + 1) * size);
  const int y1 = std::min(seen.height_px, (y + 1) * size);
  if (x0 >= x1 || y0 >= y1) return false;
  const float pixel = 1 / static_cast<float>((x1 - x0) * (y1 - y0));
  for (std::size_t p = 0; p < colours; ++p) {
    float sum = 0;
    for (int row = y0; row < y1; ++row) {
      const float* const from = seen.plane[p].data() + seen.offset(x0, row);
      for (int k = 0; k < x1 - x0; ++k) sum += from[k];
    }
    seen_[p].push_back(sum * pixel);
  }
  return true;
}

double PatchMeasure::compare(const GrownMask& around, int margin) {
  const int width = cells_.width + 2 * margin;
  for (std::size_t p = 0; p < colours; ++p) {
    seen_[p].clear();
    there_[p].clear();
  }
  for (int y = 0; y < around.height; ++y)
    for (int x = 0; x < around.width; ++x) {
      if (!around.has(x, y)) continue;
      if (!addSeen(cells_.left + x - around.margin, cells_.top + y - around.margin)) continue;
      const std::size_t change =
          areaOf(width, y - around.margin + margin) + static_cast<std::size_t>(x - around.margin + margin);
      for (std::size_t p = 0; p < colours; ++p) there_[p].push_back(added_[p][change]);
    }
  squaredDifferences(seen_, there_, squares_);
  return std::sqrt(nearestRank(squares_, difference_percentile));
}

}  // namespace petalproof::reading
