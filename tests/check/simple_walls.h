#pragma once
// Plans and scenes made by hand, all lengths in mm, whose pictures are known in closed form.

#include "engine/check/check.h"
#include "tests/support/pool.h"

#include <cmath>
#include <string>
#include <vector>

namespace petalproof {

struct SimpleWall {
  plan::LoadedPlan loaded;
  scene::Scene scene;
};

inline SimpleWall simpleWall(int columns, int rows, double panel_width, double panel_height, double seam) {
  SimpleWall made;
  plan::Plan& plan = made.loaded.plan;
  made.loaded.file = "wall.toml";
  plan.title = "Wall";
  plan.units = Units::millimetre;
  plan.wall.columns = columns;
  plan.wall.rows = rows;
  plan.wall.panel = {Length{panel_width}, Length{panel_height}};
  plan.wall.seam = Length{seam};
  plan.wall.grid = Grid<plan::Cell>(columns, rows, plan::Cell{"plain", false});
  plan.layouts = {plan::Layout{"plain", {}}};
  scene::PanelGrid& panels = made.scene.panels;
  panels.columns = columns;
  panels.rows = rows;
  panels.panel_width_mm = panel_width;
  panels.panel_height_mm = panel_height;
  panels.seam_mm = seam;
  panels.has_panel = Grid<std::uint8_t>(columns, rows, 1);
  return made;
}

// Level, facing the wall's middle, full frame.
inline plan::Shot facingShot(const SimpleWall& wall, const std::string& name, double out, double lens_mm,
                             double megapixels) {
  plan::Shot shot;
  shot.name = name;
  shot.sensor = {"full frame", 36, 24};
  shot.lens = {lens_mm, false};
  shot.megapixels = megapixels;
  shot.camera_above_floor = {wall.scene.panels.height_mm() / 2};
  shot.camera_out = {out};
  shot.aim_above_floor = shot.camera_above_floor;
  return shot;
}

// A flat bloom, a polygon of many corners as good as round, parallel to the board.
inline void addDisc(scene::Scene& scene, glm::dvec2 at, double radius, double in_front_mm) {
  constexpr int corners = 720;
  scene::Mesh disc;
  disc.vertices.emplace_back(0.0F, 0.0F, 0.0F);
  for (std::uint32_t k = 0; k < corners; ++k) {
    const double angle = 2 * 3.14159265358979323846 * k / corners;
    disc.vertices.emplace_back(radius * std::cos(angle), radius * std::sin(angle), 0.0);
    disc.triangles.push_back({0, 1 + k, 1 + (k + 1) % corners});
  }
  scene::BloomInstance bloom;
  bloom.mesh = static_cast<std::uint32_t>(scene.meshes.size());
  bloom.wallFromMesh[3] = glm::vec3(at.x, at.y, in_front_mm);
  bloom.at_mm = at;
  bloom.diameter_mm = 2 * radius;
  scene.meshes.push_back(disc);
  scene.blooms.push_back(bloom);
}

// Where the gaps are and how large; not how they read.
inline check::Check checked(const SimpleWall& wall, check::CheckOptions options = {},
                            const Pool& pool = testing::allThreads()) {
  options.readings = false;
  Result<check::Check> result = check::runCheck(wall.loaded, wall.scene, pool, options);
  return std::move(result.value.value());
}

}  // namespace petalproof
