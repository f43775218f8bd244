#include "engine/report/internal/bare_marks.h"

#include "engine/base/colour.h"
#include "engine/base/grid.h"
#include "engine/report/internal/gap_marks.h"

#include <algorithm>
#include <cstdint>

namespace petalproof::report {
namespace {

constexpr Colour hatch_ground{255, 240, 176};
constexpr int hatch_period_px = 8;  // wide enough that printed lines stay apart
constexpr int rim_px = 2;

void set(Image& image, int x, int y, Colour colour) {
  const std::size_t at = 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width_px) +
                              static_cast<std::size_t>(x));
  image.rgb[at] = colour.red;
  image.rgb[at + 1] = colour.green;
  image.rgb[at + 2] = colour.blue;
}

void fade(Image& image) {
  for (std::uint8_t& channel : image.rgb)
    channel = static_cast<std::uint8_t>(channel + (255 - channel) * 55 / 100);
}

// The value of a pixel that isn't bare but has a bare pixel within `rim_px`.
constexpr std::uint8_t rim = 255;

void addRim(Grid<std::uint8_t>& shots, int x, int y) {
  for (int dy = -rim_px; dy <= rim_px; ++dy) {
    for (int dx = -rim_px; dx <= rim_px; ++dx) {
      const bool inside = x + dx >= 0 && y + dy >= 0 && x + dx < shots.columns() && y + dy < shots.rows();
      if (!inside || dx * dx + dy * dy > rim_px * rim_px + 1) continue;
      std::uint8_t& there = shots.at(x + dx, y + dy);
      if (there == 0) there = rim;
    }
  }
}

Grid<std::uint8_t> shotsByPixel(const gaps::BareMap& bare, int width, int height) {
  Grid<std::uint8_t> shots(width, height);
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      shots.at(x, y) = static_cast<std::uint8_t>(std::min(shotsAt(bare, width, height, x, y), 254));
    }
  }
  return shots;
}

// The cells of the map, counted upwards, whose middles lie in pixel k of n; at least a single cell.
struct CellRange {
  int begin;
  int end;
};
CellRange cellsOf(int k, int n, int cells) {
  const auto at = [&](int edge) { return static_cast<int>(static_cast<std::int64_t>(edge) * cells / n); };
  const int begin = std::min(at(k), cells - 1);
  return {begin, std::max(begin + 1, at(k + 1))};
}

}  // namespace

int shotsAt(const gaps::BareMap& bare, int width_px, int height_px, int x, int y) {
  const CellRange across = cellsOf(x, width_px, bare.columns);
  const CellRange up = cellsOf(height_px - 1 - y, height_px, bare.rows);
  int most = 0;
  for (int row = up.begin; row < up.end; ++row) {
    const std::uint8_t* cells =
        bare.shots.data() + static_cast<std::size_t>(row) * static_cast<std::size_t>(bare.columns);
    for (int column = across.begin; column < across.end; ++column) most = std::max<int>(most, cells[column]);
  }
  return most;
}

void paintHatch(Image& image, int x, int y, int shots) {
  const int width = shots >= 3 ? 5 : 2;
  const bool rising = (x + y) % hatch_period_px < width;
  const bool falling = (x - y + (1 << 24)) % hatch_period_px < width;
  set(image, x, y, rising || (shots >= 2 && falling) ? mark_ink : hatch_ground);
}

void markBare(Image& picture, const gaps::BareMap& bare) {
  fade(picture);
  if (bare.columns == 0 || bare.rows == 0) return;
  Grid<std::uint8_t> shots = shotsByPixel(bare, picture.width_px, picture.height_px);
  const Grid<std::uint8_t> bare_only = shots;
  for (int y = 0; y < shots.rows(); ++y) {
    for (int x = 0; x < shots.columns(); ++x) {
      if (bare_only.at(x, y) != 0) addRim(shots, x, y);
    }
  }
  for (int y = 0; y < shots.rows(); ++y) {
    for (int x = 0; x < shots.columns(); ++x) {
      if (shots.at(x, y) == rim)
        set(picture, x, y, mark_ink);
      else if (shots.at(x, y) > 0)
        paintHatch(picture, x, y, shots.at(x, y));
    }
  }
}

}  // namespace petalproof::report
