#pragma once
// The wall head-on on a sheet, with the panels' names and tapes from the left and the top edge.

#include "engine/base/image.h"
#include "engine/gaps/bare_map.h"
#include "engine/report/internal/sheet.h"
#include "engine/scene/scene.h"

#include <functional>

namespace petalproof {

// The wall and nothing else, from so far that blooms don't lean.
Image headOnPicture(const Scene& scene, const LoadedPlan& loaded, int threads, double area_px);

// What the hatches stand for, as far as they come up.
std::vector<KeyEntry> keyOfBare(const BareMap& bare);

// `marks` draws on the picture after all else, given where it is; may be empty.
using MapMarks = std::function<void(Drawing&, const PixelRect&)>;
Image onMapSheet(const Image& picture, const SheetText& text, const PanelGrid& panels, Units units,
                 const MapMarks& marks);

}  // namespace petalproof
