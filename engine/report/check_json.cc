#include "engine/report/check_json.h"

#include "engine/report/internal/advice_json.h"
#include "engine/report/internal/check_keys.h"
#include "engine/report/internal/json_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <filesystem>

namespace petalproof::report {
namespace {

using json_text::number;
using json_text::pair;
using json_text::textOf;

std::string_view kindName(gaps::GapKind kind) {
  switch (kind) {
    case gaps::GapKind::crossing: return "crossing";
    case gaps::GapKind::seam: return "seam";
    case gaps::GapKind::board: return "board";
  }
  return "";
}

std::string wallJson(const scene::Scene& scene) {
  const scene::PanelGrid& panels = scene.panels;
  const auto& cells = panels.has_panel.cells();
  const auto fillers =
      std::count_if(scene.blooms.begin(), scene.blooms.end(),
                    [](const scene::BloomInstance& bloom) { return bloom.panel_column < 0; });
  const auto all = static_cast<std::ptrdiff_t>(scene.blooms.size());
  return fmt::format(R"({{ "width_mm": {}, "height_mm": {}, "panels": {}, "blooms": {}, "fillers": {} }})",
                     number(panels.width_mm()), number(panels.height_mm()),
                     cells.size() - static_cast<std::size_t>(std::count(cells.begin(), cells.end(), 0)),
                     all - fillers, fillers);
}

std::string shareJson(const visibility::PictureShares& share) {
  return fmt::format(R"({{ "bloom": {}, "board": {}, "seam": {}, "behind": {}, "off": {}, "people": {} }})",
                     number(share.bloom), number(share.board), number(share.seam), number(share.behind),
                     number(share.off), number(share.people));
}

std::string offJson(const camera::OffWall& off) {
  return fmt::format(R"({{ "left": {}, "right": {}, "top": {}, "bottom": {} }})", number(off.left_mm),
                     number(off.right_mm), number(off.top_mm), number(off.bottom_mm));
}

std::string outlineJson(const std::vector<glm::dvec2>& outline) {
  std::string text = "[";
  for (const glm::dvec2& point : outline) {
    if (text.size() > 1) text += ", ";
    text += pair(point);
  }
  return text + "]";
}

std::string readsJson(const reading::Reading* reading) {
  return reading == nullptr ? "" : fmt::format(R"("reads": "{}", )", nameOf(reading->reads));
}

// `shows_in`: in what share of builds, as a key; may be empty.
std::string gapJson(const check::ShotCheck& shot, const gaps::Gap& gap, const std::string& shows_in) {
  return fmt::format(
      R"({{ "id": {}, "kind": "{}", "where": {}, "centre_mm": {}, "area_mm2": {}, "width_mm": {}, )"
      R"("length_mm": {}, "pixels": {}, "behind_people": {}, "hole": {}, {}{}"outline_mm": {} }})",
      textOf(check::idOf(shot, gap)), kindName(gap.owner.kind),
      textOf(nameOf(gap.owner)), pair(gap.centre_mm), number(gap.area_mm2), number(gap.width_mm),
      number(gap.length_mm), gap.pixels, gap.behind_people, gap.hole, readsJson(readingOf(shot, gap)),
      shows_in, outlineJson(gap.outline_mm));
}

double shareOf(int count, const check::BuildsCheck& builds) {
  return builds.builds == 0 ? 0 : static_cast<double>(count) / builds.builds;
}

// Of a shot in simulated builds; nothing where none were asked for.
struct ShotBuilds {
  const check::BuildsCheck* builds = nullptr;
  const check::ShotInBuilds* shot = nullptr;
};

ShotBuilds buildsOf(const check::Check& check, std::size_t shot) {
  if (!check.builds) return {};
  return {&*check.builds, &check.builds->shots[shot]};
}

std::string showsInJson(const ShotBuilds& in, std::size_t gap) {
  if (in.builds == nullptr) return "";
  return fmt::format(R"("shows_in": {}, )", number(shareOf(in.shot->shows[gap], *in.builds)));
}

std::string shotBuildsJson(const ShotBuilds& in) {
  if (in.builds == nullptr) return "";
  return fmt::format(R"("builds": {{ "clean": {}, "elsewhere": {} }},
      )",
                     number(shareOf(in.shot->clean, *in.builds)),
                     number(shareOf(in.shot->elsewhere, *in.builds)));
}

std::string gapsJson(const check::ShotCheck& shot, const ShotBuilds& in) {
  std::vector<std::string> items;
  items.reserve(shot.found.gaps.size());
  for (std::size_t k = 0; k < shot.found.gaps.size(); ++k)
    items.push_back(gapJson(shot, shot.found.gaps[k], showsInJson(in, k)));
  return json_text::list(items, "      ");
}

std::string holesJson(const check::ShotCheck& shot) {
  std::vector<std::string> items;
  for (std::size_t k = 0; k < shot.found.holes.size(); ++k) {
    const gaps::Gap& hole = shot.found.holes[k].whole;
    std::string item = fmt::format(R"({{ "number": {}, "pixels": {}, "area_mm2": {})", hole.number,
                                   hole.pixels, number(hole.area_mm2));
    const reading::Reading* const reading = readingOf(shot, hole);
    if (reading != nullptr) item += fmt::format(R"(, "width_arcmin": {})", number(reading->width_arcmin));
    item += fmt::format(R"(, "behind_people": {})", hole.behind_people);
    if (reading != nullptr)
      item += fmt::format(R"(, "difference": {}, "odder_than": {}, "reads": "{}")",
                          number(reading->difference), number(reading->odder_than), nameOf(reading->reads));
    items.push_back(item + " }");
  }
  return json_text::list(items, "      ");
}

std::string shotJson(const check::ShotCheck& shot, const ShotBuilds& in) {
  const gaps::Specks& specks = shot.found.specks;
  return fmt::format(R"({{
      "name": {},
      "pixels": [{}, {}],
      "specks": {{ "count": {}, "area_mm2": {} }},
      "share": {},
      "off_mm": {},
      "blur_mm": {},
      {}"gaps": {},
      "holes": {} }})",
                     textOf(shot.shot.name), shot.camera.width_px, shot.camera.height_px, specks.count,
                     number(specks.area_mm2), shareJson(shot.shares), offJson(shot.off),
                     number(shot.focus.wall_blur_mm), shotBuildsJson(in), gapsJson(shot, in),
                     holesJson(shot));
}

std::string adviceKey(const advice::Advice* advice, const plan::LoadedPlan& loaded) {
  if (advice == nullptr) return "";
  return fmt::format(",\n  \"advice\": {}", adviceJson(*advice, camera::wallFrameOf(loaded.plan)));
}

std::string buildsKey(const check::Check& check) {
  if (!check.builds) return "";
  return fmt::format(",\n  \"builds\": {{ \"count\": {}, \"clean\": {} }}", check.builds->builds,
                     number(shareOf(check.builds->clean, *check.builds)));
}

}  // namespace

std::string_view checkJsonSignature() { return "{\n  \"format\": 1,\n  \"title\": "; }

std::string checkKeys(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                      const advice::Advice* advice) {
  std::vector<std::string> shots;
  for (std::size_t k = 0; k < check.shots.size(); ++k)
    shots.push_back(shotJson(check.shots[k], buildsOf(check, k)));
  return fmt::format(R"(  "format": 1,
  "title": {},
  "plan": {},
  "wall": {},
  "shots": {},
  "bare_mm2": {}{}{})",
                     textOf(loaded.plan.title),
                     textOf(std::filesystem::path(loaded.file).filename().string()), wallJson(scene),
                     json_text::list(shots, "  "), number(check.bare.bare_mm2()), buildsKey(check),
                     adviceKey(advice, loaded));
}

std::string checkJson(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                      const advice::Advice* advice) {
  return fmt::format("{{\n{}\n}}\n", checkKeys(check, loaded, scene, advice));
}

}  // namespace petalproof::report
