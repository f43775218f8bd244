#pragma once
// The wall head-on on a sheet, with the panels' names and tapes from the left and the top edge.

#include "engine/base/image.h"
#include "engine/base/pool.h"
#include "engine/gaps/bare_map.h"
#include "engine/report/internal/sheet.h"
#include "engine/scene/scene.h"

#include <functional>
#include <string>
#include <vector>

namespace petalproof::report {

// The wall and nothing else, from so far that blooms don't lean.
Image headOnPicture(const scene::Scene& scene, const plan::LoadedPlan& loaded, const Pool& pool,
                    double area_px);

// What the hatches stand for, as far as they come up.
std::vector<KeyEntry> keyOfBare(const gaps::BareMap& bare);

// Where the panels' names stand on a picture of the wall; none where they would be too small to be read.
struct PanelName {
  std::string text;
  TextStyle style;
  PixelRect place;  // with the paper behind it
  glm::dvec2 text_px{0};
};
std::vector<PanelName> panelNames(const Drawing& drawing, const PixelRect& picture,
                                  const scene::PanelGrid& panels);

// `marks` draws on the picture after all else, given where it is; may be empty.
using MapMarks = std::function<void(Drawing&, const PixelRect&)>;
Image onMapSheet(const Image& picture, const SheetText& text, const scene::PanelGrid& panels, Units units,
                 const MapMarks& marks);

}  // namespace petalproof::report
