#include "engine/report/marked_picture.h"

#include "engine/base/length_text.h"
#include "engine/reading/picture.h"
#include "engine/report/gap_words.h"
#include "engine/report/internal/bare_marks.h"
#include "engine/report/internal/gap_marks.h"
#include "engine/report/internal/sheet.h"
#include "engine/report/internal/shot_words.h"
#include "engine/report/internal/tape_measure.h"
#include "engine/report/internal/worst_places.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

constexpr double longest_side_share = 1.3;  // of the root of the area
constexpr std::size_t named_places = 6;

// Head-on from so far that blooms don't lean; the frame is exactly the wall.
Camera headOn(const PanelGrid& panels, double area_px) {
  const double ratio = panels.width_mm() / panels.height_mm();
  const double longest = longest_side_share * std::sqrt(area_px);
  const double width = std::min({std::sqrt(area_px * ratio), longest, longest * ratio});
  Camera camera;
  const double away = 60 * std::max(panels.width_mm(), panels.height_mm());
  camera.position.mm = {panels.width_mm() / 2, panels.height_mm() / 2, away};
  camera.width_px = std::max(16, static_cast<int>(std::lround(width)));
  camera.height_px = std::max(16, static_cast<int>(std::lround(camera.width_px / ratio)));
  camera.focal_px = camera.width_px * away / panels.width_mm();
  camera.focal_mm = 1;
  return camera;
}

KeyEntry hatchKey(int shots, std::string meaning) {
  return {[shots](Drawing& drawing, const PixelRect& place) {
            Image sample{static_cast<int>(place.width), static_cast<int>(place.height) - 4, {}};
            sample.rgb.resize(3 * static_cast<std::size_t>(sample.width_px * sample.height_px));
            for (int y = 0; y < sample.height_px; ++y) {
              for (int x = 0; x < sample.width_px; ++x) paintHatch(sample, x, y, shots);
            }
            const int left = static_cast<int>(place.left);
            const int top = static_cast<int>(place.top) + 2;
            drawing.place(sample, left, top);
            drawing.frame({left + 0.0, top + 0.0, sample.width_px + 0.0, sample.height_px + 0.0},
                          {2, mark_ink, 1, {}});
          },
          std::move(meaning)};
}

std::vector<KeyEntry> keyFor(const Check& check) {
  const int most =
      check.bare.shots.empty() ? 0 : *std::max_element(check.bare.shots.begin(), check.bare.shots.end());
  std::vector<KeyEntry> key;
  if (most >= 1) key.push_back(hatchKey(1, "seen bare in one shot"));
  if (most >= 2) key.push_back(hatchKey(2, "in two"));
  if (most >= 3) key.push_back(hatchKey(3, "in three or more"));
  return key;
}

std::string worstNote(const Check& check) {
  const std::vector<WorstPlace> places = worstPlaces(check);
  std::vector<std::string> names;
  for (std::size_t k = 0; k < std::min(places.size(), named_places); ++k) {
    names.push_back(ownerInWords(places[k].owner));
  }
  return names.empty() ? "" : fmt::format("Fix first: {}.", fmt::join(names, ", "));
}

std::string findingOf(const Check& check, double bare_mm2, Units units) {
  const auto shots = static_cast<std::int64_t>(check.shots.size());
  if (bare_mm2 <= 0) {
    return shots == 1 ? "Nothing bare is seen"
                      : fmt::format("Nothing bare is seen in any of the {} shots", shots);
  }
  const std::string area = areaText(bare_mm2, units);
  return shots == 1 ? area + " seen bare"
                    : fmt::format("{} seen bare by at least one of {} shots", area, shots);
}

SheetText wordsFor(const Check& check, const LoadedPlan& loaded, const PanelGrid& panels) {
  const Units units = loaded.plan.units;
  SheetText text;
  text.title = onOneLine(loaded.plan.title);
  text.details = {fmt::format("Wall map, seen from the front: {} wide and {} high",
                              tapeText(panels.width_mm(), units), tapeText(panels.height_mm(), units))};
  text.finding = findingOf(check, check.bare.bare_mm2(), units);
  text.key = keyFor(check);
  text.notes = {worstNote(check), "The tapes run from the left and from the top edge."};
  return text;
}

// Panel outlines, and names where they are large enough to be read.
void drawPanels(Drawing& drawing, const PixelRect& picture, const PanelGrid& panels) {
  const double px_per_mm = picture.width / panels.width_mm();
  const double height = panels.panel_height_mm * px_per_mm;
  const double width = panels.panel_width_mm * px_per_mm;
  const double size = std::min({22.0, height * 0.3, width * 0.2});
  for (int row = 0; row < panels.rows; ++row) {
    for (int column = 0; column < panels.columns; ++column) {
      const PixelRect panel{picture.left + panels.left_mm(column) * px_per_mm,
                            picture.top + (panels.height_mm() - panels.top_mm(row)) * px_per_mm, width,
                            height};
      drawing.frame(panel, {1, sheet_ink, 0.55, {}});
      if (size < 8 || !panels.panelAt(column, row)) continue;
      const TextStyle style{size, Face::sansBold, sheet_ink, Align::left, 0};
      const std::string name = cellName(column, row);
      const PixelRect text = drawing.extentOf(name, style, {panel.left + size * 0.6, panel.top + size * 0.4});
      drawing.fill({text.left - size * 0.3, text.top, text.width + size * 0.6, text.height}, sheet_paper,
                   0.88, size * 0.25);
      drawing.text(name, style, {text.left, text.top});
    }
  }
}

}  // namespace

Image wallMap(const Check& check, const LoadedPlan& loaded, const Scene& scene, int threads, double area_px) {
  const PanelGrid& panels = scene.panels;
  const Camera camera = headOn(panels, area_px);
  PictureOptions options;
  options.width_px = camera.width_px;
  options.threads = threads;
  Image picture = renderPicture(scene, camera, {}, wallFrameOf(loaded.plan), options);
  markBare(picture, check.bare);

  const SheetText text = wordsFor(check, loaded, panels);
  const glm::ivec2 size(picture.width_px, picture.height_px);
  const SheetLayout layout = layOut(text, size, tape_room_px);
  Drawing drawing = startSheet(text, layout, size);
  drawing.place(picture, layout.picture_left, layout.picture_top);
  const PixelRect place{static_cast<double>(layout.picture_left), static_cast<double>(layout.picture_top),
                        static_cast<double>(size.x), static_cast<double>(size.y)};
  drawPanels(drawing, place, panels);
  drawTapes(drawing, place, {panels.width_mm(), panels.height_mm()}, loaded.plan.units);
  return drawing.image();
}

}  // namespace petalproof
