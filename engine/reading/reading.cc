#include "engine/reading/reading.h"

#include "engine/base/colour.h"
#include "engine/base/colour_difference.h"

namespace petalproof::reading {
namespace {

constexpr double line_ratio = 8;    // as long as wide: from here on it is seen as a line
constexpr double line_arcmin = 30;  // a shorter one is one among many edges of petals

}  // namespace

const char* nameOf(Reads reads) {
  switch (reads) {
    case Reads::lost: return "lost";
    case Reads::faint: return "faint";
    case Reads::shows: return "shows";
  }
  return "lost";
}

bool seenAsLine(const PatchLooks& looks, double width_arcmin) {
  return looks.length_arcmin > line_ratio * width_arcmin && looks.length_arcmin >= line_arcmin &&
         looks.stray_arcmin <= width_arcmin;
}

bool canBeMadeOut(const PatchLooks& looks, double width_arcmin) {
  return width_arcmin >= made_out_arcmin || seenAsLine(looks, width_arcmin);
}

Reads readsAs(double difference, double odder_than, bool made_out,
              const plan::ReadingThresholds& thresholds) {
  if (difference < thresholds.faint || odder_than < thresholds.odd_faint) return Reads::lost;
  return odder_than > thresholds.odd_shows && made_out ? Reads::shows : Reads::faint;
}

Reading readingOf(const PatchLooks& hole, double width_arcmin, const Oddity& pieces,
                  const plan::ReadingThresholds& thresholds) {
  Reading reading;
  reading.width_arcmin = width_arcmin;
  reading.difference = hole.difference;
  reading.odder_than = pieces.says() ? pieces.odderThan(hole) : 1;
  reading.looks = hole;
  reading.reads = readsAs(hole.difference, reading.odder_than, canBeMadeOut(hole, width_arcmin), thresholds);
  return reading;
}

std::vector<Reading> readingsOf(const PictureLooks& looks, const Oddity& pieces,
                                const plan::ReadingThresholds& thresholds) {
  std::vector<Reading> readings;
  for (std::size_t k = 0; k < looks.holes.size(); ++k)
    readings.push_back(readingOf(looks.holes[k], looks.widths_arcmin[k], pieces, thresholds));
  return readings;
}

Image asSeen(const picture::WorkingPicture& picture, const camera::Camera& camera,
             const picture::LensBlur& lens, const Pool& pool, const std::stop_token& stop) {
  picture::BlurredPicture soft;
  picture::blur(picture, boardInverse(camera, picture.size), lens, pool, soft, stop);
  Image image{picture.size.width_px, picture.size.height_px, {}};
  image.rgb.reserve(3 * picture.bare_share.size());
  for (std::size_t k = 0; k < picture.bare_share.size(); ++k) {
    const glm::dvec3 linear = linearFromXyz(xyzFromOpponent(glm::dvec3(soft.as_is.at(k))));
    const Colour colour = srgbFromLinear(glm::vec3(linear));
    image.rgb.insert(image.rgb.end(), {colour.red, colour.green, colour.blue});
  }
  return image;
}

picture::InversePlane boardInverse(const camera::Camera& camera, const camera::WorkingSize& size) {
  const glm::dmat3 wallFromCamera = glm::transpose(camera.cameraFromWall);
  // The inverse distance at which the ray through a pixel of the shot meets z = 0.
  const auto at = [&](double u, double v) {
    const glm::dvec3 ray((u - camera.width_px / 2.0) / camera.focal_px,
                         (camera.height_px / 2.0 - v) / camera.focal_px, -1.0);
    return -(wallFromCamera * ray).z / camera.position.mm.z;
  };
  const double across = static_cast<double>(camera.width_px) / size.width_px;
  const double down = static_cast<double>(camera.height_px) / size.height_px;
  return {at(0, 0), at(across, 0) - at(0, 0), at(0, down) - at(0, 0)};
}

}  // namespace petalproof::reading
