#include "engine/report/internal/check_json_keys.h"

#include "engine/report/internal/advice_json.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <utility>

namespace petalproof::report {
namespace {

using json_text::append;
using json_text::Json;
using json_text::pairOf;
using json_text::valueOf;

std::string_view kindName(gaps::GapKind kind) {
  switch (kind) {
    case gaps::GapKind::crossing: return "crossing";
    case gaps::GapKind::seam: return "seam";
    case gaps::GapKind::board: return "board";
  }
  return "";
}

Json wallJson(const scene::Scene& scene) {
  const scene::PanelGrid& panels = scene.panels;
  const auto& cells = panels.has_panel.cells();
  const auto fillers =
      std::count_if(scene.blooms.begin(), scene.blooms.end(),
                    [](const scene::BloomInstance& bloom) { return bloom.panel_column < 0; });
  const auto all = static_cast<std::ptrdiff_t>(scene.blooms.size());
  return {{"width_mm", panels.width_mm()},
          {"height_mm", panels.height_mm()},
          {"panels", cells.size() - static_cast<std::size_t>(std::count(cells.begin(), cells.end(), 0))},
          {"blooms", all - fillers},
          {"fillers", fillers}};
}

Json shareJson(const visibility::PictureShares& share) {
  return {{"bloom", share.bloom},   {"board", share.board}, {"seam", share.seam},
          {"behind", share.behind}, {"off", share.off},     {"people", share.people}};
}

Json offJson(const camera::OffWall& off) {
  return {{"left", valueOf(off.left_mm)},
          {"right", valueOf(off.right_mm)},
          {"top", valueOf(off.top_mm)},
          {"bottom", valueOf(off.bottom_mm)}};
}

Json outlineJson(const std::vector<glm::dvec2>& outline) {
  Json points = Json::array();
  for (const glm::dvec2& point : outline) points.push_back(pairOf(point));
  return points;
}

double shareOf(int count, const check::BuildsCheck& builds) {
  return builds.builds == 0 ? 0 : static_cast<double>(count) / builds.builds;
}

// A shot in the check, and in simulated builds where they were asked for.
struct ShotWithBuilds {
  const check::ShotCheck& check;
  const check::BuildsCheck* builds = nullptr;
  const check::ShotInBuilds* in_builds = nullptr;
};

Json gapJson(const ShotWithBuilds& shot, std::size_t number) {
  const gaps::Gap& gap = shot.check.found.gaps[number];
  Json json = {{"id", check::idOf(shot.check, gap)}, {"kind", kindName(gap.owner.kind)},
               {"where", nameOf(gap.owner)},         {"centre_mm", pairOf(gap.centre_mm)},
               {"area_mm2", gap.area_mm2},           {"width_mm", gap.width_mm},
               {"length_mm", gap.length_mm},         {"pixels", gap.pixels},
               {"behind_people", gap.behind_people}};
  json["hole"] = gap.hole;
  if (const reading::Reading* const reading = check::readingOf(shot.check, gap))
    json["reads"] = nameOf(reading->reads);
  if (shot.builds != nullptr) json["shows_in"] = shareOf(shot.in_builds->shows[number], *shot.builds);
  json["outline_mm"] = outlineJson(gap.outline_mm);
  return json;
}

Json holeJson(const check::ShotCheck& shot, const gaps::Gap& hole) {
  Json json = {{"number", hole.number}, {"pixels", hole.pixels}, {"area_mm2", hole.area_mm2}};
  const reading::Reading* const reading = check::readingOf(shot, hole);
  if (reading != nullptr) json["width_arcmin"] = reading->width_arcmin;
  json["behind_people"] = hole.behind_people;
  if (reading != nullptr)
    append(json, {{"difference", reading->difference},
                  {"odder_than", reading->odder_than},
                  {"reads", nameOf(reading->reads)}});
  return json;
}

Json shotJson(const ShotWithBuilds& shot) {
  const check::ShotCheck& check = shot.check;
  Json json = {{"name", check.shot.name},
               {"pixels", Json::array({check.camera.width_px, check.camera.height_px})},
               {"specks", {{"count", check.found.specks.count}, {"area_mm2", check.found.specks.area_mm2}}},
               {"share", shareJson(check.shares)},
               {"off_mm", offJson(check.off)},
               {"blur_mm", valueOf(check.focus.wall_blur_mm)}};
  if (shot.builds != nullptr)
    json["builds"] = {{"clean", shareOf(shot.in_builds->clean, *shot.builds)},
                      {"elsewhere", shareOf(shot.in_builds->elsewhere, *shot.builds)}};
  Json gaps = Json::array();
  for (std::size_t k = 0; k < check.found.gaps.size(); ++k) gaps.push_back(gapJson(shot, k));
  json["gaps"] = std::move(gaps);
  Json holes = Json::array();
  for (const gaps::Hole& hole : check.found.holes) holes.push_back(holeJson(check, hole.whole));
  json["holes"] = std::move(holes);
  return json;
}

Json shotsJson(const check::Check& check) {
  Json shots = Json::array();
  for (std::size_t k = 0; k < check.shots.size(); ++k) {
    const check::BuildsCheck* builds = check.builds ? &*check.builds : nullptr;
    shots.push_back(shotJson({check.shots[k], builds, builds == nullptr ? nullptr : &builds->shots[k]}));
  }
  return shots;
}

}  // namespace

Json checkKeys(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
               const advice::Advice* advice) {
  Json json = {{"format", 1},
               {"title", loaded.plan.title},
               {"plan", std::filesystem::path(loaded.file).filename().string()},
               {"wall", wallJson(scene)},
               {"shots", shotsJson(check)},
               {"bare_mm2", check.bare.bare_mm2()}};
  if (check.builds)
    json["builds"] = {{"count", check.builds->builds},
                      {"clean", shareOf(check.builds->clean, *check.builds)}};
  if (advice != nullptr) json["advice"] = adviceJson(*advice, camera::wallFrameOf(loaded.plan));
  return json;
}

}  // namespace petalproof::report
