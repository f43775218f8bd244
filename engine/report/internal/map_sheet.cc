#include "engine/report/internal/map_sheet.h"

#include "engine/picture/picture.h"
#include "engine/plan/plan.h"
#include "engine/report/internal/bare_marks.h"
#include "engine/report/internal/gap_marks.h"
#include "engine/report/internal/tape_measure.h"

#include <algorithm>
#include <cmath>

namespace petalproof::report {
namespace {

constexpr double longest_map_side_share = 1.3;  // of the root of the area

// Head-on from so far that blooms don't lean; the frame is exactly the wall.
camera::Camera headOn(const scene::PanelGrid& panels, double area_px) {
  const double ratio = panels.width_mm() / panels.height_mm();
  const double longest = longest_map_side_share * std::sqrt(area_px);
  const double width = std::min({std::sqrt(area_px * ratio), longest, longest * ratio});
  camera::Camera camera;
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

PixelRect panelOn(const PixelRect& picture, const scene::PanelGrid& panels, int column, int row) {
  const double px_per_mm = picture.width / panels.width_mm();
  return {picture.left + panels.left_mm(column) * px_per_mm,
          picture.top + (panels.height_mm() - panels.top_mm(row)) * px_per_mm,
          panels.panel_width_mm * px_per_mm, panels.panel_height_mm * px_per_mm};
}

void drawPanels(Drawing& drawing, const PixelRect& picture, const scene::PanelGrid& panels) {
  for (int row = 0; row < panels.rows; ++row)
    for (int column = 0; column < panels.columns; ++column)
      drawing.frame(panelOn(picture, panels, column, row), {1, sheet_ink, 0.55, {}});
  for (const PanelName& name : panelNames(drawing, picture, panels)) {
    drawing.fill(name.place, sheet_paper, 0.88, name.style.size_px * 0.25);
    drawing.text(name.text, name.style, name.text_px);
  }
}

}  // namespace

std::vector<PanelName> panelNames(const Drawing& drawing, const PixelRect& picture,
                                  const scene::PanelGrid& panels) {
  std::vector<PanelName> names;
  for (int row = 0; row < panels.rows; ++row) {
    for (int column = 0; column < panels.columns; ++column) {
      const PixelRect panel = panelOn(picture, panels, column, row);
      const double size = std::min({22.0, panel.height * 0.3, panel.width * 0.2});
      if (size < 8 || !panels.panelAt(column, row)) continue;
      const TextStyle style{size, Face::sansBold, sheet_ink, Align::left, 0};
      const std::string name = plan::cellName(column, row);
      const PixelRect text = drawing.extentOf(name, style, {panel.left + size * 0.6, panel.top + size * 0.4});
      const PixelRect place{text.left - size * 0.3, text.top, text.width + size * 0.6, text.height};
      names.push_back({name, style, place, {text.left, text.top}});
    }
  }
  return names;
}

Image headOnPicture(const scene::Scene& scene, const plan::LoadedPlan& loaded, const Pool& pool,
                    double area_px) {
  const camera::Camera camera = headOn(scene.panels, area_px);
  picture::PictureOptions options;
  options.width_px = camera.width_px;
  return picture::renderPicture(scene, camera, {}, camera::wallFrameOf(loaded.plan), pool, options);
}

std::vector<KeyEntry> keyOfBare(const gaps::BareMap& bare) {
  const int most = bare.shots.empty() ? 0 : *std::max_element(bare.shots.begin(), bare.shots.end());
  std::vector<KeyEntry> key;
  if (most >= 1) key.push_back(hatchKey(1, "seen bare in one shot"));
  if (most >= 2) key.push_back(hatchKey(2, "in two"));
  if (most >= 3) key.push_back(hatchKey(3, "in three or more"));
  return key;
}

Image onMapSheet(const Image& picture, const SheetText& text, const scene::PanelGrid& panels, Units units,
                 const MapMarks& marks) {
  const glm::ivec2 size(picture.width_px, picture.height_px);
  const SheetLayout layout = layOut(text, size, tape_room_px);
  Drawing drawing = startSheet(text, layout, size);
  drawing.place(picture, layout.picture_left, layout.picture_top);
  const PixelRect place{static_cast<double>(layout.picture_left), static_cast<double>(layout.picture_top),
                        static_cast<double>(size.x), static_cast<double>(size.y)};
  drawPanels(drawing, place, panels);
  drawTapes(drawing, place, {panels.width_mm(), panels.height_mm()}, units);
  if (marks) marks(drawing, place);
  return drawing.image();
}

}  // namespace petalproof::report
