#include "engine/report/marked_picture.h"

#include "engine/base/length_text.h"
#include "engine/report/internal/bare_marks.h"
#include "engine/report/internal/gap_words.h"
#include "engine/report/internal/map_sheet.h"
#include "engine/report/internal/shot_words.h"
#include "engine/report/internal/worst_places.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::report {
namespace {

constexpr std::size_t named_places = 6;

std::string worstNote(const check::Check& check) {
  const std::vector<WorstPlace> places = worstPlaces(check);
  std::vector<std::string> names;
  for (std::size_t k = 0; k < std::min(places.size(), named_places); ++k) {
    names.push_back(ownerInWords(places[k].owner));
  }
  return names.empty() ? "" : fmt::format("Fix first: {}.", fmt::join(names, ", "));
}

std::string findingOf(const check::Check& check, double bare_mm2, Units units) {
  const auto shots = static_cast<std::int64_t>(check.shots.size());
  if (bare_mm2 <= 0) {
    return shots == 1 ? "Nothing bare is seen"
                      : fmt::format("Nothing bare is seen in any of the {} shots", shots);
  }
  const std::string area = areaText(bare_mm2, units);
  return shots == 1 ? area + " seen bare"
                    : fmt::format("{} seen bare by at least one of {} shots", area, shots);
}

SheetText wordsFor(const check::Check& check, const plan::LoadedPlan& loaded,
                   const scene::PanelGrid& panels) {
  const Units units = loaded.plan.units;
  SheetText text;
  text.title = onOneLine(loaded.plan.title);
  text.details = {fmt::format("Wall map, seen from the front: {} wide and {} high",
                              tapeText(panels.width_mm(), units), tapeText(panels.height_mm(), units))};
  text.finding = findingOf(check, check.bare.bare_mm2(), units);
  text.key = keyOfBare(check.bare);
  text.notes = {worstNote(check), "The tapes run from the left and from the top edge."};
  return text;
}

}  // namespace

Image wallMap(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
              const Pool& pool, double area_px) {
  Image picture = headOnPicture(scene, loaded, pool, area_px);
  markBare(picture, check.bare);
  return onMapSheet(picture, wordsFor(check, loaded, scene.panels), scene.panels, loaded.plan.units, {});
}

}  // namespace petalproof::report
