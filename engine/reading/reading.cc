#include "engine/reading/reading.h"

#include "engine/base/colour.h"
#include "engine/base/colour_difference.h"
#include "engine/base/hash.h"
#include "engine/base/picture_memory.h"
#include "engine/base/stopping.h"
#include "engine/camera/projection.h"
#include "engine/reading/internal/gap_mask.h"
#include "engine/reading/internal/like_patches.h"
#include "engine/reading/internal/texture.h"
#include "engine/reading/internal/without_bare.h"
#include "engine/reading/scielab.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace petalproof::reading {
namespace {

constexpr int like_places = 24;
constexpr std::size_t fewest_places = 8;
constexpr double like_reach_deg = 3;
constexpr double texture_percentile = 0.9;
constexpr double line_ratio = 8;  // as long as wide: from here on it is seen as a line

// Everything about one gap that doesn't depend on what the eye sees.
struct GapPlace {
  GapMask mask;
  std::vector<glm::ivec2> like;
};

// Whether the front part of a pixel is of the wall: mostly bloom, or covered board.
bool isWall(const ReadingInput& input, const camera::Camera& camera, int x, int y) {
  const picture::WorkingPicture& picture = input.picture;
  const std::size_t k = picture.offset(x, y);
  const float front = 1 - picture.bare_share[k];
  if (front <= 0) return false;
  if (picture.bloom_share[k] > front / 2) return true;
  if (!input.panels.ground_covered) return false;
  const auto place = camera::boardPointOf(camera, {glm::dvec2(x + 0.5, y + 0.5)});
  return place && visibility::boardPlaneAt(input.panels, *place).sees() == visibility::Sees::board;
}

// 1 where it is.
void findWall(const ReadingInput& input, const Pool& pool, std::vector<std::uint8_t>& wall) {
  const camera::WorkingSize& size = input.picture.size;
  const camera::Camera camera = camera::scaledTo(input.camera, size.width_px);
  resizePicture(wall, input.picture.bare_share.size(), pool);
  pool.forEach(static_cast<std::size_t>(size.height_px), [&](std::size_t row) {
    const int y = static_cast<int>(row);
    for (int x = 0; x < size.width_px; ++x)
      wall[input.picture.offset(x, y)] = isWall(input, camera, x, y) ? 1 : 0;
  });
}

double blurAt(const ReadingInput& input, const picture::InversePlane& board, const GapMask& mask) {
  return input.lens.diameter(board.at(mask.left + mask.width / 2, mask.top + mask.height / 2));
}

GapPlace placeOf(const ReadingInput& input, const BloomOnly& bloom, const gaps::Gap& gap) {
  GapPlace place;
  place.mask = maskOf(gap.runs, input.camera.width_px, input.camera.height_px, input.picture.size);
  place.like = likePlaces(place.mask, bloom, like_reach_deg * input.picture.size.pixels_per_degree,
                          like_places, hashOf({input.seed, static_cast<std::uint64_t>(gap.number)}));
  return place;
}

void addWindow(glm::ivec2 at, const GapPlace& place, int margin, TileSet& tiles) {
  tiles.add(at.x - margin, at.y - margin, at.x + place.mask.width + margin,
            at.y + place.mask.height + margin);
}

struct WantedTiles {
  TileSet gaps;
  TileSet all;  // the like places too
};

WantedTiles tilesOf(const std::vector<GapPlace>& places, const camera::WorkingSize& size, double widest_px) {
  WantedTiles wanted{TileSet(size.width_px, size.height_px), TileSet(size.width_px, size.height_px)};
  const int margin = static_cast<int>(std::ceil(widest_px / 2)) + 1;
  for (const GapPlace& place : places) {
    addWindow({place.mask.left, place.mask.top}, place, margin, wanted.gaps);
    for (const glm::ivec2& at : place.like) addWindow(at, place, margin, wanted.all);
  }
  wanted.all.addAll(wanted.gaps);
  return wanted;
}

// Straight to within its own width: no point of the outline farther than that from the line through the two
// that lie farthest apart.
bool isStraight(const gaps::Gap& gap) {
  // All pairs are looked at, so of a very ragged outline only every so many points.
  constexpr std::size_t most_points = 1000;
  const std::size_t step = gap.outline_mm.size() / most_points + 1;
  std::vector<glm::dvec2> outline;
  for (std::size_t k = 0; k < gap.outline_mm.size(); k += step) outline.push_back(gap.outline_mm[k]);
  double longest = 0;
  glm::dvec2 from(0);
  glm::dvec2 along(0);
  for (const glm::dvec2& a : outline)
    for (const glm::dvec2& b : outline)
      if (const double apart = glm::distance(a, b); apart > longest) {
        longest = apart;
        from = a;
        along = (b - a) / apart;
      }
  return std::all_of(outline.begin(), outline.end(), [&](const glm::dvec2& p) {
    return std::abs((p.x - from.x) * along.y - (p.y - from.y) * along.x) <= gap.width_mm;
  });
}

bool seenAsLine(const gaps::Gap& gap) { return gap.length_mm > line_ratio * gap.width_mm && isStraight(gap); }

double textureOf(LikePatches& patches, const GapPlace& place, const gaps::Gap& gap) {
  if (place.like.size() < fewest_places) return 0;
  return nearestRank(patches.measures(place.mask, place.like), seenAsLine(gap) ? 0.5 : texture_percentile);
}

}  // namespace

const char* nameOf(Reads reads) {
  switch (reads) {
    case Reads::lost: return "lost";
    case Reads::faint: return "faint";
    case Reads::shows: return "shows";
  }
  return "lost";
}

Reads readingOf(double difference, double texture, const plan::ReadingThresholds& thresholds) {
  if (difference < thresholds.faint || difference <= texture / 2) return Reads::lost;
  return difference >= thresholds.shows && difference > texture ? Reads::shows : Reads::faint;
}

struct GapReader::State {
  explicit State(const Pool& given) : pool(given) {}

  std::vector<GapPlace> placesOf(const ReadingInput& input, const std::stop_token& stop) const;
  void see(const ReadingInput& input, const std::vector<GapPlace>& places, const EyeKernels& kernels,
           const std::stop_token& stop);

  const Pool& pool;
  std::vector<std::uint8_t> wall;
  FillingChange filling;
  picture::BlurredPicture blurred;
  Planes seen;    // the picture as it is; before there is one, room for what filling adds
  Planes change;  // what filling adds to it
};

std::vector<GapPlace> GapReader::State::placesOf(const ReadingInput& input,
                                                 const std::stop_token& stop) const {
  const BloomOnly bloom(input.picture, pool);
  std::vector<GapPlace> places(input.gaps.size());
  pool.forEach(places.size(), [&](std::size_t k) {
    throwIfStopAsked(stop);
    places[k] = placeOf(input, bloom, input.gaps[k]);
  });
  return places;
}

void GapReader::State::see(const ReadingInput& input, const std::vector<GapPlace>& places,
                           const EyeKernels& kernels, const std::stop_token& stop) {
  filling.light = std::move(seen);
  findWall(input, pool, wall);
  throwIfStopAsked(stop);
  findChangeOfFilling(input.picture, wall, input.elsewhere, pool, filling);
  picture::blur(input.picture, boardInverse(input.camera, input.picture.size), input.lens, filling.light,
                filling.tiles, pool, blurred, stop);
  seen = std::move(filling.light);
  const WantedTiles wanted = tilesOf(places, input.picture.size, blurred.widest_px);
  throwIfStopAsked(stop);
  seeByEye(blurred.as_is, kernels, wanted.all, pool, seen);
  throwIfStopAsked(stop);
  seeByEye(blurred.change, kernels, wanted.gaps, pool, change);
}

GapReader::GapReader(const Pool& pool) : state_(std::make_unique<State>(pool)) {}
GapReader::~GapReader() = default;

std::vector<Reading> GapReader::read(const ReadingInput& input, const std::stop_token& stop) {
  std::vector<Reading> readings(input.gaps.size());
  if (input.gaps.empty()) return readings;
  const std::vector<GapPlace> places = state_->placesOf(input, stop);
  const EyeKernels kernels = eyeKernels(input.picture.size.pixels_per_degree);
  state_->see(input, places, kernels, stop);
  const picture::InversePlane board = boardInverse(input.camera, input.picture.size);
  const SeenPicture measured{input.picture, state_->seen, kernels, input.lens};
  state_->pool.forEachWith<LikePatches>(places.size(), measured, [&](std::size_t k, LikePatches& patches) {
    throwIfStopAsked(stop);
    Reading& reading = readings[k];
    const glm::ivec2 at(places[k].mask.left, places[k].mask.top);
    // Not kept: in a strong blur it is thousands of times as large as the gap.
    const GrownMask around = grown(places[k].mask, blurAt(input, board, places[k].mask) / 2);
    reading.difference = differenceOver(around, state_->seen, at, state_->change);
    reading.texture = textureOf(patches, places[k], input.gaps[k]);
    reading.reads = readingOf(reading.difference, reading.texture, input.thresholds);
  });
  return readings;
}

Image asSeen(const picture::WorkingPicture& picture, const camera::Camera& camera,
             const picture::LensBlur& lens, const Pool& pool, const std::stop_token& stop) {
  picture::BlurredPicture soft;
  picture::blur(picture, boardInverse(camera, picture.size), lens, {},
                TileSet(picture.size.width_px, picture.size.height_px), pool, soft, stop);
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
