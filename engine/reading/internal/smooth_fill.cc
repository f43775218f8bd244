#include "engine/reading/internal/smooth_fill.h"

#include <algorithm>
#include <array>

namespace petalproof {
namespace {

constexpr int most_sweeps = 40;
constexpr int small_px = 12;  // relaxed in no time from any start
constexpr float over_relaxation = 1.6F;

// Means of 2 x 2 pixels over those that have any light.
struct Level {
  int width = 0;
  int height = 0;
  std::vector<glm::vec3> light;
  std::vector<float> weight;

  std::size_t offset(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
};

Level finest(const FillWindow& window) {
  Level level{window.width, window.height, window.light, {}};
  level.weight.resize(window.state.size());
  for (std::size_t k = 0; k < window.state.size(); ++k)
    level.weight[k] = window.state[k] == FillState::known ? 1.0F : 0.0F;
  return level;
}

Level halved(const Level& fine) {
  Level coarse{(fine.width + 1) / 2, (fine.height + 1) / 2, {}, {}};
  const auto count = static_cast<std::size_t>(coarse.width) * static_cast<std::size_t>(coarse.height);
  coarse.light.assign(count, glm::vec3(0));
  coarse.weight.assign(count, 0);
  for (int y = 0; y < fine.height; ++y)
    for (int x = 0; x < fine.width; ++x) {
      const float weight = fine.weight[fine.offset(x, y)];
      coarse.light[coarse.offset(x / 2, y / 2)] += weight * fine.light[fine.offset(x, y)];
      coarse.weight[coarse.offset(x / 2, y / 2)] += weight;
    }
  for (std::size_t k = 0; k < count; ++k) {
    if (coarse.weight[k] > 0) coarse.light[k] /= coarse.weight[k];
    coarse.weight[k] = std::min(coarse.weight[k], 1.0F);
  }
  return coarse;
}

// A complete level, read between its pixels' centres.
glm::vec3 between(const Level& coarse, int x, int y) {
  const int x0 = std::clamp((x - 1) / 2, 0, coarse.width - 1);
  const int y0 = std::clamp((y - 1) / 2, 0, coarse.height - 1);
  const int x1 = std::min(x0 + 1, coarse.width - 1);
  const int y1 = std::min(y0 + 1, coarse.height - 1);
  const float fx = x == 0 ? 0.0F : (x % 2 == 1 ? 0.25F : 0.75F);
  const float fy = y == 0 ? 0.0F : (y % 2 == 1 ? 0.25F : 0.75F);
  const glm::vec3 above =
      (1 - fx) * coarse.light[coarse.offset(x0, y0)] + fx * coarse.light[coarse.offset(x1, y0)];
  const glm::vec3 below =
      (1 - fx) * coarse.light[coarse.offset(x0, y1)] + fx * coarse.light[coarse.offset(x1, y1)];
  return (1 - fy) * above + fy * below;
}

void completeFrom(const Level& coarse, Level& fine) {
  for (int y = 0; y < fine.height; ++y)
    for (int x = 0; x < fine.width; ++x) {
      const std::size_t k = fine.offset(x, y);
      if (fine.weight[k] < 1)
        fine.light[k] = fine.weight[k] * fine.light[k] + (1 - fine.weight[k]) * between(coarse, x, y);
    }
}

Level pulledAndPushed(const FillWindow& window) {
  std::vector<Level> levels{finest(window)};
  while (levels.back().width > 1 || levels.back().height > 1) levels.push_back(halved(levels.back()));
  for (std::size_t k = levels.size() - 1; k > 0; --k) completeFrom(levels[k], levels[k - 1]);
  return std::move(levels.front());
}

void startFromPyramid(FillWindow& window) {
  const Level start = pulledAndPushed(window);
  for (std::size_t k = 0; k < window.state.size(); ++k)
    if (window.state[k] == FillState::wanted) window.light[k] = start.light[k];
}

void startFromMean(FillWindow& window) {
  glm::vec3 sum(0);
  int known = 0;
  for (std::size_t k = 0; k < window.state.size(); ++k)
    if (window.state[k] == FillState::known) {
      sum += window.light[k];
      ++known;
    }
  for (std::size_t k = 0; k < window.state.size(); ++k)
    if (window.state[k] == FillState::wanted) window.light[k] = sum / static_cast<float>(known);
}

// A wanted pixel and its four neighbours; itself in place of one that doesn't count, which leaves the
// solution as it is.
struct Unknown {
  std::uint32_t pixel = 0;
  std::array<std::uint32_t, 4> beside{};
};

Unknown unknownAt(const FillWindow& window, int x, int y) {
  const auto own = static_cast<std::uint32_t>(window.offset(x, y));
  const auto at = [&](int nx, int ny) {
    const bool inside = nx >= 0 && ny >= 0 && nx < window.width && ny < window.height;
    if (!inside || window.state[window.offset(nx, ny)] == FillState::outside) return own;
    return static_cast<std::uint32_t>(window.offset(nx, ny));
  };
  return {own, {at(x - 1, y), at(x + 1, y), at(x, y - 1), at(x, y + 1)}};
}

std::vector<Unknown> unknownsOf(const FillWindow& window) {
  std::vector<Unknown> unknowns;
  for (int y = 0; y < window.height; ++y)
    for (int x = 0; x < window.width; ++x)
      if (window.state[window.offset(x, y)] == FillState::wanted) unknowns.push_back(unknownAt(window, x, y));
  return unknowns;
}

// Colours cross a hole in a few sweeps a pixel of its thickness.
int sweepsFor(const FillWindow& window, std::size_t unknowns) {
  const double thickness = static_cast<double>(unknowns) / std::max(window.width, window.height);
  return std::min(most_sweeps, 6 + static_cast<int>(4 * thickness));
}

void relax(const std::vector<Unknown>& unknowns, int sweeps, std::vector<glm::vec3>& light) {
  for (int sweep = 0; sweep < sweeps; ++sweep)
    for (const Unknown& unknown : unknowns) {
      const glm::vec3 sum = light[unknown.beside[0]] + light[unknown.beside[1]] + light[unknown.beside[2]] +
                            light[unknown.beside[3]];
      glm::vec3& own = light[unknown.pixel];
      own += over_relaxation * (0.25F * sum - own);
    }
}

}  // namespace

void FillWindow::reset(int columns, int rows) {
  width = columns;
  height = rows;
  const auto count = static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows);
  light.assign(count, glm::vec3(0));
  state.assign(count, FillState::outside);
}

bool fillSmoothly(FillWindow& window) {
  if (std::find(window.state.begin(), window.state.end(), FillState::known) == window.state.end())
    return false;
  const std::vector<Unknown> unknowns = unknownsOf(window);
  if (std::max(window.width, window.height) <= small_px)
    startFromMean(window);
  else
    startFromPyramid(window);
  relax(unknowns, sweepsFor(window, unknowns.size()), window.light);
  return true;
}

}  // namespace petalproof
