#include "engine/light/internal/board_light.h"

#include <algorithm>
#include <cmath>

namespace petalproof::light {
namespace {

constexpr double usual_step_mm = 3.0;
constexpr int steps = 4;  // of a tile
constexpr double lattice_mm = 0.25;
constexpr double lattice_origin_mm = -1e6;  // well beyond any wall: places count from there

int tilesAlong(double side_mm, double step_mm) {
  return std::max(1, static_cast<int>(std::ceil(side_mm / (steps * step_mm))));
}

struct NetPlace {
  int tile = 0;
  int step = 0;
  float part = 0;  // of a step beyond it
};

NetPlace netPlace(double mm, double step_mm, int tiles) {
  const double at = std::clamp(mm / step_mm, 0.0, tiles * steps - 1e-6);
  const int whole = static_cast<int>(at);
  return {whole / steps, whole % steps, static_cast<float>(at - whole)};
}

}  // namespace

BoardLight::Point BoardLight::mixed(const Point& a, const Point& b, float t) {
  const auto mix = [t](float x, float y) { return x + (y - x) * t; };
  return {mix(a.dome, b.dome), mix(a.key, b.key), mix(a.dome_hidden, b.dome_hidden),
          mix(a.key_hidden, b.key_hidden)};
}

BoardLight::BoardLight(const scene::PanelGrid& panels, double scale)
    : step_mm_(usual_step_mm * scale),
      tile_at_(tilesAlong(panels.width_mm(), step_mm_), tilesAlong(panels.height_mm(), step_mm_), not_lit) {}

int BoardLight::tileOf(BoardPoint place) const {
  return netPlace(place.mm.y, step_mm_, tile_at_.rows()).tile * tile_at_.columns() +
         netPlace(place.mm.x, step_mm_, tile_at_.columns()).tile;
}

glm::dvec2 BoardLight::middleOf(int tile) const {
  return steps * step_mm_ * glm::dvec2(tile % tile_at_.columns() + 0.5, tile / tile_at_.columns() + 0.5);
}

void BoardLight::addSpots(int tile, SharedSpots& spots) const {
  const int column = tile % tile_at_.columns();
  const int row = tile / tile_at_.columns();
  for (int y = 0; y <= steps; ++y) {
    for (int x = 0; x <= steps; ++x) {
      const glm::dvec3 place((column * steps + x) * step_mm_, (row * steps + y) * step_mm_, 0.0);
      spots.push_back({glm::vec3(place), {0, 0, 1}, {0, 0, 1}});
    }
  }
}

void BoardLight::makeRoomFor(std::span<const int> tiles) {
  fresh_.assign(tiles.begin(), tiles.end());
  points_.reserve(points_.size() + tiles.size() * spots_of_tile);
  for (const int tile : tiles) {
    firstPointOf(tile) = static_cast<std::uint32_t>(points_.size());
    points_.resize(points_.size() + spots_of_tile);
  }
}

void BoardLight::take(int tile, std::span<const Arriving> light) {
  std::transform(light.begin(), light.end(), points_.begin() + firstPointOf(tile),
                 [](const Arriving& arriving) {
                   return Point{arriving.dome, arriving.key, arriving.dome_hidden, arriving.key_hidden};
                 });
}

void BoardLight::shareEven() {
  if (fresh_.empty()) return;
  std::size_t kept = firstPointOf(fresh_.front());
  for (const int tile : fresh_) {
    const auto from = points_.begin() + firstPointOf(tile);
    const auto end = from + spots_of_tile;
    const bool is_even = std::all_of(from, end, [&](const Point& point) { return point == *from; });
    firstPointOf(tile) = static_cast<std::uint32_t>(kept) | (is_even ? even : 0);
    const auto to = points_.begin() + static_cast<std::ptrdiff_t>(kept);
    if (is_even)
      *to = *from;
    else
      std::copy(from, end, to);
    kept += is_even ? 1 : spots_of_tile;
  }
  points_.resize(kept);
  fresh_.clear();
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
  fresh_.clear();
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
  const NetPlace x = netPlace(place.mm.x, step_mm_, tile_at_.columns());
  const NetPlace y = netPlace(place.mm.y, step_mm_, tile_at_.rows());
  const std::uint32_t place_of_tile = tile_at_.at(x.tile, y.tile);
  if (place_of_tile == not_lit) return {1, 1, 0, 0, 0, 0};
  const auto arriving = [](const Point& point) {
    return Arriving{point.dome, point.key, point.dome_hidden, point.key_hidden, 0, 0};
  };
  if ((place_of_tile & even) != 0) return arriving(points_[place_of_tile & ~even]);
  const Point* const net = points_.data() + place_of_tile;
  const Point* const low = net + y.step * (steps + 1) + x.step;
  const Point* const high = low + steps + 1;
  return arriving(mixed(mixed(low[0], low[1], x.part), mixed(high[0], high[1], x.part), y.part));
}

}  // namespace petalproof::light
