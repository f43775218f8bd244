#pragma once
// The planned wall in the wall frame: every bloom, every panel, the colours around them. The check, the
// pictures and the viewer build a Scene from a plan and read it.

#include "engine/base/colour.h"
#include "engine/base/frames.h"
#include "engine/base/grid.h"
#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "engine/scene/mesh.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

namespace petalproof::scene {

// A bloom on the wall. Copies that differ only in place and turn share a mesh.
struct BloomInstance {
  std::uint32_t mesh = 0;  // index into Scene::meshes
  glm::mat4x3 wallFromMesh{1.0F};
  Colour colour;
  int kind = 0;         // index into Plan::blooms
  glm::dvec2 at_mm{0};  // of its axis on the board plane
  double raised_mm = 0;
  double diameter_mm = 0;
  double plate_mm = 0;
  int panel_column = -1;  // -1: a filler
  int panel_row = -1;
  int index = 0;  // in its layout, or in Plan::fillers
};

// The panels and seams of the board plane. All sizes in mm, wall frame.
struct PanelGrid {
  int columns = 0;
  int rows = 0;
  double panel_width_mm = 0;
  double panel_height_mm = 0;
  double seam_mm = 0;
  double thickness_mm = 0;
  double above_floor_mm = 0;
  bool ground_covered = false;
  Grid<std::uint8_t> has_panel;  // columns x rows, top row first; 1: a panel hangs there

  double width_mm() const { return columns * panel_width_mm + (columns - 1) * seam_mm; }
  double height_mm() const { return rows * panel_height_mm + (rows - 1) * seam_mm; }
  bool panelAt(int column, int row) const {
    return column >= 0 && column < columns && row >= 0 && row < rows && has_panel.at(column, row) != 0;
  }
  // Left edge of a column, top edge of a row (y up; row 0 is the top row), on the board plane.
  double left_mm(int column) const { return column * (panel_width_mm + seam_mm); }
  double top_mm(int row) const { return height_mm() - row * (panel_height_mm + seam_mm); }
  // The column or row whose panel, or whose slit to the right or below, holds a place; beyond the wall the
  // nearest.
  int columnAt(double x_mm) const { return cellAlong(x_mm, panel_width_mm, columns); }
  int rowAt(double y_mm) const { return rowFromTop(height_mm() - y_mm); }
  int rowFromTop(double from_top_mm) const { return cellAlong(from_top_mm, panel_height_mm, rows); }
  // The middle of the slit right of a column or below a row.
  double slitRightOf_mm(int column) const { return left_mm(column + 1) - seam_mm / 2; }
  double slitBelow_mm(int row) const { return top_mm(row + 1) + seam_mm / 2; }

 private:
  int cellAlong(double mm, double panel_mm, int count) const {
    return static_cast<int>(std::clamp(std::floor(mm / (panel_mm + seam_mm)), 0.0, count - 1.0));
  }
};

struct SceneColours {
  Colour board;
  Colour board_edge;
  Colour behind;
  Colour room;
};

struct Scene {
  std::vector<Mesh> meshes;
  std::vector<BloomInstance> blooms;
  PanelGrid panels;
  SceneColours colours;
};

struct SceneLimits {
  std::int64_t triangles = 20'000'000;  // of the wall; keeps memory and time bounded
};

// Reads the plan's OBJ files and builds every bloom. Problems point at the plan or the OBJ file;
// warnings: a bloom that lies wholly inside another, a wall higher than the room's ceiling.
Result<Scene> buildScene(const plan::LoadedPlan& loaded, const SceneLimits& limits = {});

}  // namespace petalproof::scene
