#include "engine/light/internal/board_light.h"

#include <algorithm>
#include <cmath>

namespace petalproof::light {
namespace {

constexpr double step_mm = 3.0;
constexpr int steps = 4;  // of a tile
constexpr double lattice_mm = 0.25;
constexpr double lattice_origin_mm = -1e6;  // well beyond any wall: places count from there

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

BoardLight::BoardLight(const scene::PanelGrid& panels)
    : tile_at_(tilesAlong(panels.width_mm()), tilesAlong(panels.height_mm()), not_lit) {}

int BoardLight::tileOf(BoardPoint place) const {
  return netPlace(place.mm.y, tile_at_.rows()).tile * tile_at_.columns() +
         netPlace(place.mm.x, tile_at_.columns()).tile;
}

glm::dvec2 BoardLight::middleOf(int tile) const {
  return steps * step_mm * glm::dvec2(tile % tile_at_.columns() + 0.5, tile / tile_at_.columns() + 0.5);
}

void BoardLight::addSpots(int tile, SharedSpots& spots) const {
  const int column = tile % tile_at_.columns();
  const int row = tile / tile_at_.columns();
  for (int y = 0; y <= steps; ++y) {
    for (int x = 0; x <= steps; ++x) {
      const glm::dvec3 place((column * steps + x) * step_mm, (row * steps + y) * step_mm, 0.0);
      spots.push_back({glm::vec3(place), {0, 0, 1}, {0, 0, 1}});
    }
  }
}

void BoardLight::makeRoomFor(std::span<const int> tiles) {
  for (const int tile : tiles) {
    tile_at_.at(tile % tile_at_.columns(), tile / tile_at_.columns()) =
        static_cast<std::uint32_t>(points_.size());
    points_.resize(points_.size() + spots_of_tile);
  }
}

void BoardLight::take(int tile, std::span<const Arriving> light) {
  const std::uint32_t first = tile_at_.at(tile % tile_at_.columns(), tile / tile_at_.columns());
  std::copy(light.begin(), light.end(), points_.begin() + first);
}

BoardLight::Place BoardLight::placeOf(BoardPoint point) {
  const glm::dvec2 steps_from = (point.mm - lattice_origin_mm) / lattice_mm;
  static constexpr double most = 4e9;
  const auto count = [](double value) {
    return static_cast<std::uint64_t>(std::clamp(std::round(value), 0.0, most));
  };
  return count(steps_from.x) << 32 | count(steps_from.y);
}

LitSpot BoardLight::spotOf(Place place) {
  const glm::dvec2 counts(static_cast<double>(place >> 32), static_cast<double>(place & 0xffffffffU));
  return {glm::vec3(glm::dvec3(counts * lattice_mm + lattice_origin_mm, 0.0)), {0, 0, 1}, {0, 0, 1}};
}

void BoardLight::clear() {
  for (std::uint32_t& tile : tile_at_.cells()) tile = not_lit;
  points_.clear();
  places_.clear();
}

void BoardLight::takePlaces(std::span<const Place> places, std::span<const Arriving> light) {
  for (std::size_t k = 0; k < places.size(); ++k) places_[places[k]] = light[k];
}

Arriving BoardLight::atPlace(Place place) const {
  const auto found = places_.find(place);
  return found == places_.end() ? Arriving{} : found->second;
}

Arriving BoardLight::at(BoardPoint place) const {
  const NetPlace x = netPlace(place.mm.x, tile_at_.columns());
  const NetPlace y = netPlace(place.mm.y, tile_at_.rows());
  const Arriving* const net = points_.data() + tile_at_.at(x.tile, y.tile);
  const Arriving* const low = net + y.step * (steps + 1) + x.step;
  const Arriving* const high = low + steps + 1;
  return mixed(mixed(low[0], low[1], x.part), mixed(high[0], high[1], x.part), y.part);
}

}  // namespace petalproof::light
