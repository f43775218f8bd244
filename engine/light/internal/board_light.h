#pragma once
// The board plane in its light: place by place where paper is near, elsewhere on a net of 3 mm (coarser on
// large walls, light_scale.h). Close to paper light changes within a millimetre, and a net would give other
// light wherever else it lay.

#include "engine/base/frames.h"
#include "engine/base/grid.h"
#include "engine/light/internal/wall_light.h"
#include "engine/scene/scene.h"

#include <cstdint>
#include <span>
#include <unordered_map>
#include <vector>

namespace petalproof::light {

class BoardLight {
 public:
  explicit BoardLight(const scene::PanelGrid& panels, double scale = 1);

  // Numbered row by row.
  int tiles() const { return tile_at_.columns() * tile_at_.rows(); }
  int columns() const { return tile_at_.columns(); }
  // The tile of a place; places outside the wall's outline belong to the nearest tile.
  int tileOf(BoardPoint place) const;
  glm::dvec2 middleOf(int tile) const;
  // Adds the places whose light a tile needs. `take` gets what arrives there, in the same order;
  // tiles that there is room for may take theirs side by side.
  void addSpots(int tile, SharedSpots& spots) const;
  void makeRoomFor(std::span<const int> tiles);
  // Forgets all light.
  void clear();
  void take(int tile, std::span<const Arriving> light);
  // Once the tiles that room was made for last have taken theirs: where light is the same all over a tile, as
  // on most of a bare wall, it is kept only once.
  void shareEven();
  static constexpr std::size_t spots_of_tile = 5 * 5;
  bool isLit(int tile) const {
    return tile_at_.at(tile % tile_at_.columns(), tile / tile_at_.columns()) != not_lit;
  }
  // Places near paper, each lit by itself, on a lattice of a quarter of a millimetre.
  using Place = std::uint64_t;
  static Place placeOf(BoardPoint point);
  static LitSpot spotOf(Place place);
  void takePlaces(std::span<const Place> places, std::span<const Arriving> light);
  Arriving atPlace(Place place) const;

  // The light that arrives at a place on a flat board, interpolated between the net's points. Where the tile
  // isn't lit, the light of a board with nothing in front of it.
  Arriving at(BoardPoint place) const;

 private:
  static constexpr std::uint32_t not_lit = 0xffffffffU;
  static constexpr std::uint32_t even = 0x80000000U;  // added to the place of the only point of a tile

  // The light at a point of the net. A board has a front only, so this is half of an Arriving.
  struct Point {
    float dome = 0;
    float key = 0;
    float dome_hidden = 0;
    float key_hidden = 0;
    friend bool operator==(const Point&, const Point&) = default;
  };
  static Point mixed(const Point& a, const Point& b, float t);
  std::uint32_t& firstPointOf(int tile) {
    return tile_at_.at(tile % tile_at_.columns(), tile / tile_at_.columns());
  }

  double step_mm_;
  Grid<std::uint32_t> tile_at_;  // its first point, or not lit
  std::vector<Point> points_;
  std::vector<int> fresh_;  // tiles that room was made for last, in the order of their points
  std::unordered_map<Place, Arriving> places_;
};

}  // namespace petalproof::light
