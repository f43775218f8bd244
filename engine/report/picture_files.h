#pragma once
// A check's pictures as files.

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
  // How far it is, 0 to 1, and what comes next ("drawing couple"); false ends it. May be empty.
  std::function<bool(double share, const std::string& what)> goes_on;
  // "1-couple.png" and its bytes; false ends it.
  std::function<bool(std::string name, std::string bytes)> take;
  int threads = 0;  // 0: as many as the machine has
};

// Each shot with its gaps marked, then the map of the wall, as PNG, one after the other. False: it was ended.
bool drawPictureFiles(const check::Check& check, const plan::LoadedPlan& plan, const scene::Scene& scene,
                      const PictureFiles& files);

}  // namespace petalproof::report
