#pragma once
// The light on a whole wall, found piece by piece as pictures need it and kept. It depends on the scene
// alone, not on what was asked for before.

#include "engine/base/pool.h"
#include "engine/light/internal/board_light.h"
#include "engine/light/internal/surface_light.h"
#include "engine/light/internal/wall_light.h"
#include "engine/light/lighting.h"
#include "engine/scene/scene.h"
#include "engine/visibility/rasteriser.h"

#include <cstdint>
#include <span>
#include <stop_token>
#include <vector>

namespace petalproof::light {

// What a picture shows.
struct SeenPieces {
  std::vector<PaperSide> sides;
  std::vector<int> tiles;                 // of the board, far from paper
  std::vector<BoardLight::Place> places;  // of the board, near paper; each once
};

class SceneLight {
 public:
  // Refers to `scene` and `pool`, which must outlive it.
  SceneLight(const scene::Scene& scene, const Pool& pool, Lighting lighting = Lighting::full);

  const SurfaceLight& paper() const { return paper_; }
  const BoardLight& boards() const { return boards_; }

  // Lights what is seen and isn't lit yet. The wall falls into squares: where one is seen, all paper is lit
  // that shows in it from any side where people might stand, so that the next picture finds it lit. Paper
  // that shows only from elsewhere, slivers, gets by with a few lamps; under Lighting::rough all does. Board
  // is lit for each picture by itself, so that its light doesn't depend on the pictures before.
  // `stop` is asked within; what isn't
  // lit yet stays so. May be empty.
  void lightUp(const SeenPieces& seen, const std::stop_token& stop = {});

 private:
  struct Marks {
    std::vector<std::uint8_t> sides;  // 2 * triangle + back
  };
  std::size_t squareOf(glm::dvec2 place) const;
  std::vector<std::uint8_t> dueSquares(const SeenPieces& seen) const;
  void addSeen(const glm::dvec3& way, const visibility::IdBuffer& seen, Marks& marks) const;
  std::vector<PaperSide> inSquares(const std::vector<std::uint8_t>& squares, const std::stop_token& stop);
  void lightBoard(const SeenPieces& seen, const std::stop_token& stop);
  struct Group;
  static std::vector<Group> groupsOf(const SeenPieces& pieces);
  std::vector<SeenPieces> bySquare(const SeenPieces& pieces) const;
  void light(const SeenPieces& pieces, LightQuality quality, const std::stop_token& stop);
  void lightBareBoard(std::span<const int> tiles, LightQuality quality);
  void lightTogether(const SeenPieces& pieces, LightQuality quality, const std::stop_token& stop);
  void take(const Group& group, std::span<const Arriving> light);

  const scene::Scene& scene_;
  Lighting lighting_;
  double scale_;  // lightScale
  WallLight light_;
  SurfaceLight paper_;
  BoardLight boards_;
  const Pool& pool_;
  visibility::Rasteriser rasteriser_;
  int across_;
  int down_;
  std::vector<std::uint8_t> lit_;  // one a square
  SeenPieces board_;               // what is lit of the board
};

}  // namespace petalproof::light
