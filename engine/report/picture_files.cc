#include "engine/report/picture_files.h"

#include "engine/base/stopping.h"
#include "engine/report/marked_picture.h"
#include "engine/report/png.h"

#include <fmt/format.h>

namespace petalproof::report {
namespace {

constexpr std::size_t longest_file_name = 100;

}  // namespace

std::string fileNameFrom(std::string_view text) {
  std::string name;
  for (const char c : text.substr(0, longest_file_name)) {
    const bool kept = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                      c == '-' || c == '_' || (c == '.' && !name.empty());
    name += kept ? c : '-';
  }
  return name.empty() ? "-" : name;
}

std::string pictureFileName(std::size_t number, std::string_view shot) {
  return fmt::format("{}-{}.png", number, fileNameFrom(shot));
}

bool drawPictureFiles(const check::Check& check, const plan::LoadedPlan& plan, const scene::Scene& scene,
                      const Pool& pool, const PictureFiles& files) {
  const double count = static_cast<double>(check.shots.size()) + 1;
  const auto begin = [&](std::size_t done, const std::string& what) {
    throwIfStopAsked(files.stop);
    if (files.progress) files.progress(static_cast<double>(done) / count, "drawing " + what);
  };
  for (std::size_t k = 0; k < check.shots.size(); ++k) {
    const std::string& name = check.shots[k].shot.name;
    begin(k, name);
    const Image image = markedPicture(check.shots[k], plan, scene, pool);
    if (!files.take(pictureFileName(k + 1, name), encodePng(image, picture_dots_per_inch))) return false;
  }
  begin(check.shots.size(), "the wall map");
  return files.take(wall_map_name, encodePng(wallMap(check, plan, scene, pool), picture_dots_per_inch));
}

}  // namespace petalproof::report
