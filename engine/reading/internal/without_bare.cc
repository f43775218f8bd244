#include "engine/reading/internal/without_bare.h"

#include "engine/gaps/components.h"
#include "engine/reading/internal/smooth_fill.h"

#include <algorithm>

namespace petalproof::reading {
namespace {

constexpr float mostly = 0.5F;
constexpr int colour_count = 3;
constexpr int numbers = 4;  // a pixel: the colour_count and one more, for the processor's sake

struct Picture {
  const picture::WorkingPicture& sharp;
  const std::vector<std::uint8_t>& wall;

  int width() const { return sharp.size.width_px; }
  int height() const { return sharp.size.height_px; }
  std::size_t offset(int x, int y) const { return sharp.offset(x, y); }
  bool wanted(std::size_t k) const {
    return sharp.bare_share[k] > mostly || (sharp.bare_share[k] > 0 && wall[k] == 0);
  }
};

std::vector<gaps::Run> wantedRuns(const Picture& picture) {
  std::vector<gaps::Run> runs;
  for (int y = 0; y < picture.height(); ++y) {
    for (int x = 0; x < picture.width(); ++x) {
      if (!picture.wanted(picture.offset(x, y))) continue;
      const int begin = x;
      while (x < picture.width() && picture.wanted(picture.offset(x, y))) ++x;
      runs.push_back({y, begin, x, 1});
    }
  }
  return runs;
}

struct Box {
  int x0;
  int y0;
  int x1;
  int y1;  // one past
};

// Of the patch and the pixels beside it, cut to the picture.
Box boxAround(const gaps::Component& patch, const Picture& picture) {
  Box box{picture.width(), picture.height(), 0, 0};
  for (const gaps::Run& run : patch.runs) {
    box.x0 = std::min(box.x0, run.begin - 1);
    box.x1 = std::max(box.x1, run.end + 1);
    box.y0 = std::min(box.y0, run.row - 1);
    box.y1 = std::max(box.y1, run.row + 2);
  }
  return {std::max(box.x0, 0), std::max(box.y0, 0), std::min(box.x1, picture.width()),
          std::min(box.y1, picture.height())};
}

// Wall pixels that touch the run, on all eight sides, become known.
void markBorder(const Picture& picture, const gaps::Run& run, const Box& box, FillWindow& window) {
  for (int y = std::max(run.row - 1, box.y0); y < std::min(run.row + 2, box.y1); ++y)
    for (int x = std::max(run.begin - 1, box.x0); x < std::min(run.end + 1, box.x1); ++x) {
      const std::size_t k = picture.offset(x, y);
      const std::size_t w = window.pixel(x - box.x0, y - box.y0);
      if (picture.wanted(k) || picture.wall[k] == 0) continue;
      for (int c = 0; c < colour_count; ++c) {
        window.lightOf(w)[c] = picture.sharp.front[k][c];
        window.knownOf(w)[c] = 1;
      }
    }
}

void makeWindow(const Picture& picture, const gaps::Component& patch, const Box& box, FillWindow& window) {
  window.reset(box.x1 - box.x0, box.y1 - box.y0, numbers);
  for (const gaps::Run& run : patch.runs) {
    markBorder(picture, run, box, window);
    for (int x = run.begin; x < run.end; ++x) window.wanted[window.pixel(x - box.x0, run.row - box.y0)] = 1;
  }
}

void fillPatch(const Picture& picture, const gaps::Component& patch, const glm::vec3& elsewhere,
               Planes& change) {
  const Box box = boxAround(patch, picture);
  FillWindow window;
  makeWindow(picture, patch, box, window);
  const bool has_border = std::find(window.known.begin(), window.known.end(), 1.0F) != window.known.end();
  if (has_border) SmoothFill().fill(window);
  for (const gaps::Run& run : patch.runs)
    for (int x = run.begin; x < run.end; ++x) {
      const std::size_t k = picture.offset(x, run.row);
      const float* light = window.lightOf(window.pixel(x - box.x0, run.row - box.y0));
      const glm::vec3 fill = has_border ? glm::vec3(light[0], light[1], light[2]) : elsewhere;
      change.set(k, picture.sharp.bare_share[k] * (fill - picture.sharp.bare[k]));
    }
}

// Rows [first, last).
void fillPartly(const Picture& picture, int first, int last, FillingChange& change) {
  for (int y = first; y < last; ++y)
    for (int x = 0; x < picture.width(); ++x) {
      const std::size_t k = picture.offset(x, y);
      if (picture.sharp.bare_share[k] <= 0) continue;
      change.tiles.add(x, y, x + 1, y + 1);
      if (!picture.wanted(k))
        change.light.set(k, picture.sharp.bare_share[k] * (picture.sharp.front[k] - picture.sharp.bare[k]));
    }
}

}  // namespace

void findChangeOfFilling(const picture::WorkingPicture& picture, const std::vector<std::uint8_t>& wall,
                         const glm::vec3& elsewhere, const Pool& pool, FillingChange& change) {
  const Picture seen{picture, wall};
  change.tiles = TileSet(picture.size.width_px, picture.size.height_px);
  change.light.resize(picture.size.width_px, picture.size.height_px, pool);
  pool.forEach(static_cast<std::size_t>(change.tiles.rows()), [&](std::size_t row) {
    const int first = static_cast<int>(row) * TileSet::size_px;
    fillPartly(seen, first, std::min(first + TileSet::size_px, picture.size.height_px), change);
  });
  const std::vector<gaps::Component> patches = gaps::connectedComponents(wantedRuns(seen));
  pool.forEach(patches.size(), [&](std::size_t k) { fillPatch(seen, patches[k], elsewhere, change.light); });
}

}  // namespace petalproof::reading
