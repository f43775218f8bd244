#include "engine/arrange/internal/arrange_alike.h"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace petalproof::arrange {
namespace {

constexpr std::size_t most_layouts = 40;  // compared, so that the time stays bounded
constexpr std::size_t most_items = 60;    // fuller layouts never come out alike
constexpr float same_place = 1.0F / 8;    // share of the panel's shorter side

double sharedPlaces(const ArrangeLayout& a, const ArrangeLayout& b, float sign, float within) {
  std::vector<char> used(b.items.size(), 0);
  int shared = 0;
  for (const ArrangeItem& item : a.items)
    for (std::size_t k = 0; k < b.items.size(); ++k) {
      const float dx = item.spot.x - sign * b.items[k].spot.x;
      const float dy = item.spot.y - sign * b.items[k].spot.y;
      if (used[k] || b.items[k].kind != item.kind || dx * dx + dy * dy > within * within) continue;
      used[k] = 1;
      ++shared;
      break;
    }
  return static_cast<double>(shared) / static_cast<double>(std::max(a.items.size(), b.items.size()));
}

}  // namespace

double alikeness(const ArrangeTask& task) {
  const float within = std::min(task.wall.panel_width, task.wall.panel_height) * same_place;
  const std::size_t layouts = std::min(task.layouts.size(), most_layouts);
  double most = 0;
  for (std::size_t i = 0; i < layouts; ++i)
    for (std::size_t j = i + 1; j < layouts; ++j) {
      const ArrangeLayout& a = task.layouts[i];
      const ArrangeLayout& b = task.layouts[j];
      if (a.items.empty() || b.items.empty() || std::max(a.items.size(), b.items.size()) > most_items)
        continue;
      for (const float sign : {1.0F, -1.0F}) most = std::max(most, sharedPlaces(a, b, sign, within));
    }
  return most;
}

}  // namespace petalproof::arrange
