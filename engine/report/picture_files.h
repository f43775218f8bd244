#pragma once
// A check's pictures as files.

#include "engine/base/pool.h"
#include "engine/check/check.h"

#include <functional>
#include <stop_token>
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
  // How far it is, 0 to 1, and what comes next ("drawing couple"). May be empty.
  std::function<void(double share, const std::string& what)> progress;
  // "1-couple.png" and its bytes; false: they couldn't be written, so no others are drawn.
  std::function<bool(std::string name, std::string bytes)> take;
  std::stop_token stop;  // asked before each picture
};

// Each shot with its gaps marked, then the map of the wall, as PNG, one after the other. False: a picture
// couldn't be written. Throws Stopped where files.stop asks for it.
bool drawPictureFiles(const check::Check& check, const plan::LoadedPlan& plan, const scene::Scene& scene,
                      const Pool& pool, const PictureFiles& files);

}  // namespace petalproof::report
