#pragma once
// Draws a check's pictures and gives them names; `check --pictures` and the window call it.

#include "engine/check/check.h"

#include <functional>
#include <string>
#include <string_view>

namespace petalproof::report {

constexpr double picture_dots_per_inch = 200;

constexpr const char* wall_map_name = "wall-map.png";

// A file name from any text: letters, digits, '-' and '_' kept, '.' but for a first one, all else '-'; never
// empty, and cut to 100 bytes, so that no file system finds it too long.
std::string fileNameFrom(std::string_view text);

// "1-couple.png" for the first shot.
std::string pictureFileName(std::size_t number, std::string_view shot);

struct PictureFiles {
  // Called with the share done, 0 to 1, and the next step ("drawing couple"); false ends the drawing. May be
  // empty.
  std::function<bool(double share, const std::string& step)> goes_on;
  // Takes a file, as "1-couple.png", with its bytes; false ends the drawing.
  std::function<bool(std::string name, std::string bytes)> take;
  int threads = 0;  // 0: as many as the machine has
};

// Each shot with its gaps marked, then the map of the wall, as PNG, one after the other. Returns false where
// it was ended.
bool drawPictureFiles(const check::Check& check, const plan::LoadedPlan& plan, const scene::Scene& scene,
                      const PictureFiles& files);

}  // namespace petalproof::report
