#pragma once
// The board plane in its light: place by place where paper is near, elsewhere on a net of 3 mm. (Close to
// paper light changes within a millimetre, and a net would give other light wherever else it lay.)

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
  explicit BoardLight(const scene::PanelGrid& panels);

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
  static constexpr std::size_t spots_of_tile = 5 * 5;
  bool isLit(int tile) const {
    return tile_at_.at(tile % tile_at_.columns(), tile / tile_at_.columns()) != not_lit;
  }
  // Places near paper, each lit by itself. They lie on a lattice so fine that it doesn't matter.
  using Place = std::uint64_t;
  static Place placeOf(BoardPoint point);
  static LitSpot spotOf(Place place);
  void takePlaces(std::span<const Place> places, std::span<const Arriving> light);
  Arriving atPlace(Place place) const;

  // What arrives at a place of a lit tile on a flat board; between the net's points in proportion.
  Arriving at(BoardPoint place) const;

 private:
  static constexpr std::uint32_t not_lit = 0xffffffffU;

  Grid<std::uint32_t> tile_at_;  // its first point, or not lit
  std::vector<Arriving> points_;
  std::unordered_map<Place, Arriving> places_;
};

}  // namespace petalproof::light
