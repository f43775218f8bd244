#include "engine/reading/internal/patch_window.h"

#include <algorithm>

namespace petalproof::reading {
namespace {

constexpr double widest_cells = 40;  // mean width of a patch that is still seen pixel by pixel
constexpr int largest_cell_px = 64;
constexpr float half_bare = 0.5F;

// Sides of pixels between the mask and what isn't of it.
std::int64_t perimeterOf(const GapMask& mask) {
  std::int64_t sides = 0;
  const auto has = [&](int x, int y) {
    return y >= 0 && y < mask.height && mask.share[mask.offset(x, y)] > 0;
  };
  for (const MaskSpan& span : mask.spans) {
    sides += 2;
    for (int x = span.begin; x < span.end; ++x)
      sides += (has(x, span.row - 1) ? 0 : 1) + (has(x, span.row + 1) ? 0 : 1);
  }
  return sides;
}

int floorDivided(int value, int by) { return value >= 0 ? value / by : -((-value + by - 1) / by); }

void placeWindow(const GapMask& mask, PatchWindow& window) {
  const int cell = window.cell_px;
  window.left = floorDivided(mask.left, cell) - 1;
  window.top = floorDivided(mask.top, cell) - 1;
  window.width = (mask.left + mask.width - 1) / cell + 2 - window.left;
  window.height = (mask.top + mask.height - 1) / cell + 2 - window.top;
  window.cells.assign(static_cast<std::size_t>(window.width) * static_cast<std::size_t>(window.height),
                      PatchCell{});
}

// Adds a row of the picture's pixels to the cells they lie in.
class RowGatherer {
 public:
  RowGatherer(const picture::WorkingPicture& picture, const std::vector<std::uint8_t>& wall,
              const GapMask& mask, PatchOf of, PatchWindow& window)
      : picture_(picture), wall_(wall), mask_(mask), of_(of), window_(window) {}

  void add(int y, int x0, int x1) {
    const int row = y - mask_.top;
    const bool in_mask = row >= 0 && row < mask_.height;
    PatchCell* const cells = &window_.cells[window_.offset(0, y / window_.cell_px - window_.top)];
    for (int x = x0; x < x1; ++x) {
      const int column = x - mask_.left;
      const float share =
          in_mask && column >= 0 && column < mask_.width ? mask_.share[mask_.offset(column, row)] : 0.0F;
      addPixel(picture_.offset(x, y), share, cells[x / window_.cell_px - window_.left]);
    }
  }

 private:
  void addPixel(std::size_t k, float share, PatchCell& cell) const {
    const float bare = picture_.bare_share[k];
    if (share > 0) {
      cell.share += share;
      cell.own += share * (of_ == PatchOf::bare ? picture_.bare[k]
                                                : picture_.front[k] * (1 - bare) + picture_.bare[k] * bare);
      if (of_ == PatchOf::paper) return;
    }
    if (wall_[k] == 0 || bare > half_bare) return;
    cell.beside_share += 1 - bare;
    cell.beside += (1 - bare) * picture_.front[k];
  }

  const picture::WorkingPicture& picture_;
  const std::vector<std::uint8_t>& wall_;
  const GapMask& mask_;
  PatchOf of_;
  PatchWindow& window_;
};

void toMeans(PatchWindow& window) {
  const float pixel = 1 / static_cast<float>(window.cell_px * window.cell_px);
  for (PatchCell& cell : window.cells) {
    if (cell.share > 0) cell.own /= cell.share;
    if (cell.beside_share > 0) cell.beside /= cell.beside_share;
    cell.share *= pixel;
    cell.beside_share *= pixel;
  }
}

}  // namespace

int cellSizeFor(const GapMask& mask) {
  double area = 0;
  for (const float share : mask.share) area += share;
  double width = 4 * area / static_cast<double>(std::max<std::int64_t>(perimeterOf(mask), 1));
  int cell = 1;
  for (; width > widest_cells && cell < largest_cell_px; width /= 2) cell *= 2;
  return cell;
}

void gatherPatch(const picture::WorkingPicture& picture, const std::vector<std::uint8_t>& wall,
                 const GapMask& mask, PatchOf of, PatchWindow& window) {
  window.cell_px = cellSizeFor(mask);
  placeWindow(mask, window);
  RowGatherer rows(picture, wall, mask, of, window);
  const int cell = window.cell_px;
  const int x0 = std::max(0, window.left * cell);
  const int x1 = std::min(picture.size.width_px, (window.left + window.width) * cell);
  const int y1 = std::min(picture.size.height_px, (window.top + window.height) * cell);
  for (int y = std::max(0, window.top * cell); y < y1; ++y) rows.add(y, x0, x1);
  toMeans(window);
}

}  // namespace petalproof::reading
