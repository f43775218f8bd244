#include "engine/report/picture_files.h"

#include "engine/report/marked_picture.h"
#include "engine/report/png.h"
#include "engine/report/wall_map.h"

#include <fmt/format.h>

namespace petalproof::report {
namespace {

constexpr std::size_t longest_file_name = 100;  // bytes; file systems take 255 or, encrypted, 143

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
                      const PictureFiles& files) {
  const double count = static_cast<double>(check.shots.size()) + 1;
  const auto goesOn = [&](std::size_t done, const std::string& subject) {
    return !files.goes_on || files.goes_on(static_cast<double>(done) / count, "drawing " + subject);
  };
  for (std::size_t k = 0; k < check.shots.size(); ++k) {
    const std::string& name = check.shots[k].shot.name;
    if (!goesOn(k, name)) return false;
    const Image image = markedPicture(check.shots[k], plan, scene, files.threads);
    if (!files.take(pictureFileName(k + 1, name), encodePng(image, picture_dots_per_inch))) return false;
  }
  if (!goesOn(check.shots.size(), "the wall map")) return false;
  return files.take(wall_map_name,
                    encodePng(wallMap(check, plan, scene, files.threads), picture_dots_per_inch));
}

}  // namespace petalproof::report
