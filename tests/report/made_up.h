#pragma once
// Checks put together by hand, so that what is reported can be told in advance.

#include "engine/check/check.h"

#include <fstream>
#include <memory>
#include <sstream>
#include <string>

namespace petalproof::made_up {

// Two by two panels of 20 x 16 in, seam 1/16 in; wall frame in mm.
inline scene::PanelGrid panels() {
  scene::PanelGrid panels;
  panels.columns = 2;
  panels.rows = 2;
  panels.panel_width_mm = 508;
  panels.panel_height_mm = 406.4;
  panels.seam_mm = 1.5875;
  panels.has_panel = Grid<std::uint8_t>(2, 2, 1);
  return panels;
}

inline scene::Scene scene() {
  scene::Scene scene;
  scene.panels = panels();
  scene.blooms.resize(5);
  for (scene::BloomInstance& bloom : scene.blooms) bloom.panel_column = bloom.panel_row = 0;
  scene.blooms.back().panel_column = scene.blooms.back().panel_row = -1;
  return scene;
}

inline plan::LoadedPlan plan(Units units = Units::inch) {
  plan::LoadedPlan loaded;
  loaded.plan.title = "Harvest \"Moon\"";
  loaded.plan.units = units;
  loaded.file = "some/folder/harvest.toml";
  return loaded;
}

// A rectangular gap with its centre at (x, y).
inline gaps::Gap gap(int number, gaps::Owner owner, glm::dvec2 centre, double length_mm, double width_mm) {
  gaps::Gap gap;
  gap.number = number;
  gap.owner = owner;
  gap.centre_mm = centre;
  gap.width_mm = width_mm;
  gap.length_mm = length_mm;
  gap.area_mm2 = length_mm * width_mm;
  gap.pixels = 40;
  const glm::dvec2 half(width_mm / 2, length_mm / 2);
  gap.outline_mm = {centre - half, centre + glm::dvec2(half.x, -half.y), centre + half,
                    centre + glm::dvec2(-half.x, half.y), centre - half};
  return gap;
}

// Each gap a hole of its own.
inline void addHoles(gaps::GapsOfShot& found) {
  found.holes.clear();
  for (gaps::Gap& gap : found.gaps) {
    gaps::Hole& hole = found.holes.emplace_back();
    gap.hole = static_cast<int>(found.holes.size());
    hole.gaps = {found.holes.size() - 1};
    hole.whole = gap;
    hole.whole.number = gap.hole;
  }
}

inline reading::Reading reading(reading::Reads reads, double odder_than, double difference = 20,
                                double area_arcmin2 = 400) {
  reading::Reading reading;
  reading.reads = reads;
  reading.odder_than = odder_than;
  reading.difference = reading.looks.difference = difference;
  reading.width_arcmin = 12.25;
  reading.looks.area_arcmin2 = area_arcmin2;
  return reading;
}

// Says something.
inline std::shared_ptr<const reading::Oddity> somePieces() {
  return std::make_shared<reading::Oddity>(std::vector<reading::PatchLooks>(60));
}

inline check::ShotCheck shot(const std::string& name = "couple") {
  check::ShotCheck shot;
  shot.shot.name = name;
  shot.shot.label = "Couple, three-quarter";
  shot.shot.sensor.name = "full frame";
  shot.shot.upright = true;
  shot.shot.lens.mm = 85;
  shot.shot.aperture = 4;
  shot.shot.camera_out = {204};
  shot.camera.width_px = 3200;
  shot.camera.height_px = 4000;
  shot.camera.focal_mm = 85;
  shot.lens = shot.shot.lens;
  shot.viewing = {203.2, 333};
  shot.focus = {{3733.8, 3987.8}, true, 0.1234567, 11.1, {}};
  shot.shares = {0.9, 0.05, 0.0001, 0, 0.0499, 0.123};
  shot.room = {1219.2, 900, 7, 9};
  return shot;
}

inline check::Check check(std::vector<check::ShotCheck> shots) {
  check::Check check;
  check.shots = std::move(shots);
  for (check::ShotCheck& shot : check.shots)
    if (shot.found.holes.size() != shot.found.gaps.size()) addHoles(shot.found);
  check.bare.columns = 3;
  check.bare.rows = 1;
  check.bare.shots = {1, 0, 2};
  return check;
}

inline std::string readTestFile(const std::string& name) {
  std::ifstream file(std::string(PETALPROOF_SOURCE_DIR) + "/tests/report/data/" + name, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

}  // namespace petalproof::made_up
