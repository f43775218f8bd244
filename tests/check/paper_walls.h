#pragma once
// Walls of paper in ten palettes, and holes planted in them, to ask whether readings are believable.

#include "engine/check/shot_checker.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"

#include <glm/vec2.hpp>

#include <cstdint>
#include <string>
#include <vector>

namespace petalproof::testing {

struct PaperPalette {
  std::string name;
  std::vector<Colour> blooms;  // four
  Colour leaf;
  bool has_white = false;  // a bloom as white as board
};
const std::vector<PaperPalette>& paperPalettes();

struct PaperWall {
  plan::LoadedPlan loaded;
  scene::Scene scene;
};

// Arranged as `new` does from a table, 3 x 3 panels of 24 x 20 in; about a tenth of the board is left bare.
PaperWall arrangedWall(const PaperPalette& palette, std::uint64_t seed);

// Wholly covered: blooms of 8 to 9 in and green ones, 5.7 in apart, over the whole wall and past
// its edges. `missing`: indices of blooms left out, see coveredPlaces().
PaperWall coveredWall(const PaperPalette& palette, std::uint64_t seed,
                      const std::vector<std::size_t>& missing = {});
// Where each bloom of a covered wall sits, mm in the wall frame.
std::vector<glm::dvec2> coveredPlaces();

// A flat sheet of paper before the board, convex, corners anticlockwise; bends nowhere.
void addSheet(scene::Scene& scene, const std::vector<glm::dvec2>& corners_mm, double in_front_mm,
              Colour colour);
std::vector<glm::dvec2> discCorners(glm::dvec2 middle, double radius_mm);

// The couple's and the whole wall's shot of the five that a plan without shots is checked with, with fewer
// megapixels: the working pictures are nearly the same.
std::vector<plan::Shot> coupleAndWholeWall(const PaperWall& wall, double megapixels = 3);

// The hole whose middle is nearest to the place, within `reach_mm`; or -1.
int holeAt(const check::ShotCheck& shot, glm::dvec2 place_mm, double reach_mm);

}  // namespace petalproof::testing
