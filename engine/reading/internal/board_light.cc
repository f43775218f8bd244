#include "engine/reading/internal/board_light.h"

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

constexpr double step_mm = 2.0;
constexpr int steps = 16;  // of a tile
constexpr std::uint32_t not_lit = 0xffffffffU;

int tilesAlong(double side_mm) {
  return std::max(1, static_cast<int>(std::ceil(side_mm / (steps * step_mm))));
}

struct NetPlace {
  int tile = 0;
  int step = 0;
  float part = 0;  // of a step beyond it
};

NetPlace netPlace(double mm, int tiles) {
  const double at = std::clamp(mm / step_mm, 0.0, tiles * steps - 1e-6);
  const int whole = static_cast<int>(at);
  return {whole / steps, whole % steps, static_cast<float>(at - whole)};
}

Arriving mixed(const Arriving& a, const Arriving& b, float t) {
  const auto mix = [t](float x, float y) { return x + (y - x) * t; };
  return {mix(a.dome, b.dome),
          mix(a.key, b.key),
          mix(a.dome_hidden, b.dome_hidden),
          mix(a.key_hidden, b.key_hidden),
          0,
          0};
}

}  // namespace

BoardLight::BoardLight(const PanelGrid& panels, const WallLight& light)
    : light_(light), tile_at_(tilesAlong(panels.width_mm()), tilesAlong(panels.height_mm()), not_lit) {}

int BoardLight::tileOf(BoardPoint place) const {
  return netPlace(place.mm.y, tile_at_.rows()).tile * tile_at_.columns() +
         netPlace(place.mm.x, tile_at_.columns()).tile;
}

void BoardLight::lightUp(std::span<const int> tiles) {
  std::vector<LitSpot> spots;
  for (const int tile : tiles) {
    const int column = tile % tile_at_.columns();
    const int row = tile / tile_at_.columns();
    if (tile_at_.at(column, row) != not_lit) continue;
    tile_at_.at(column, row) = static_cast<std::uint32_t>(points_.size() + spots.size());
    for (int y = 0; y <= steps; ++y) {
      for (int x = 0; x <= steps; ++x) {
        const glm::dvec3 place((column * steps + x) * step_mm, (row * steps + y) * step_mm, 0.0);
        spots.push_back({glm::vec3(place), {0, 0, 1}, {0, 0, 1}});
      }
    }
  }
  std::vector<Arriving> light;
  light_.arriving(spots, light);
  points_.insert(points_.end(), light.begin(), light.end());
}

bool BoardLight::isLit(BoardPoint place) const {
  return tile_at_.at(netPlace(place.mm.x, tile_at_.columns()).tile,
                     netPlace(place.mm.y, tile_at_.rows()).tile) != not_lit;
}

Arriving BoardLight::at(BoardPoint place) const {
  const NetPlace x = netPlace(place.mm.x, tile_at_.columns());
  const NetPlace y = netPlace(place.mm.y, tile_at_.rows());
  const Arriving* const net = points_.data() + tile_at_.at(x.tile, y.tile);
  const Arriving* const low = net + y.step * (steps + 1) + x.step;
  const Arriving* const high = low + steps + 1;
  return mixed(mixed(low[0], low[1], x.part), mixed(high[0], high[1], x.part), y.part);
}

}  // namespace petalproof
