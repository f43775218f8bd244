#include "engine/fill/internal/filler_surroundings.h"

#include "engine/base/colour_difference.h"
#include "engine/check/preview_check.h"
#include "engine/visibility/visibility_buffer.h"

#include <cmath>
#include <cstdint>
#include <map>
#include <tuple>

namespace petalproof::fill {
namespace {

constexpr double megapixels = 0.25;  // of the small pictures

enum : std::int32_t { covered_board = -1, nothing = -2 };

// The surface that a pixel shows beside fillers: the index of a bloom, covered board, or nothing.
std::int32_t offeredBy(visibility::PixelId id, std::size_t first, const scene::PanelGrid& panels) {
  if (id.sees() == visibility::Sees::bloom && id.index() < first)
    return static_cast<std::int32_t>(id.index());
  return id.sees() == visibility::Sees::board && panels.ground_covered ? covered_board : nothing;
}

// For each pixel what the nearest pixel that offers anything offers, in steps from pixel to pixel.
std::vector<std::int32_t> nearestOffers(const visibility::VisibilityBuffer& seen, std::size_t first,
                                        const scene::PanelGrid& panels) {
  std::vector<std::int32_t> offers(seen.ids.size());
  std::vector<std::size_t> edge;
  for (std::size_t k = 0; k < offers.size(); ++k) {
    offers[k] = offeredBy(seen.ids[k], first, panels);
    if (offers[k] != nothing) edge.push_back(k);
  }
  const auto width = static_cast<std::size_t>(seen.width_px);
  std::vector<std::size_t> next;
  const auto spread = [&](std::size_t from, std::size_t to) {
    if (offers[to] != nothing) return;
    offers[to] = offers[from];
    next.push_back(to);
  };
  for (; !edge.empty(); edge.swap(next)) {
    next.clear();
    for (const std::size_t k : edge) {
      if (k % width > 0) spread(k, k - 1);
      if (k % width + 1 < width) spread(k, k + 1);
      if (k >= width) spread(k, k - width);
      if (k + width < offers.size()) spread(k, k + width);
    }
  }
  return offers;
}

using SharesBeside = std::vector<std::map<std::int32_t, double>>;  // by filler, then by offer

void addPicture(const visibility::VisibilityBuffer& seen, std::size_t first, const scene::PanelGrid& panels,
                SharesBeside& shares) {
  const std::vector<std::int32_t> offers = nearestOffers(seen, first, panels);
  const double pixel = 1.0 / static_cast<double>(seen.ids.size());
  for (std::size_t k = 0; k < offers.size(); ++k)
    if (seen.ids[k].sees() == visibility::Sees::bloom && seen.ids[k].index() >= first && offers[k] != nothing)
      shares[seen.ids[k].index() - first][offers[k]] += pixel;
}

}  // namespace

std::vector<std::vector<ColourBeside>> coloursBeside(const scene::Scene& scene, std::size_t first,
                                                     const std::vector<camera::Camera>& cameras,
                                                     const Pool& workers) {
  SharesBeside shares(scene.blooms.size() - first);
  visibility::VisibilityRenderer renderer(workers);
  visibility::VisibilityBuffer seen;
  for (const camera::Camera& camera : cameras) {
    renderer.renderIds(scene, check::atPreviewSize(camera, megapixels), seen);
    addPicture(seen, first, scene.panels, shares);
  }
  std::vector<std::vector<ColourBeside>> beside(shares.size());
  for (std::size_t k = 0; k < shares.size(); ++k)
    for (const auto& [offer, share] : shares[k])
      beside[k].push_back({offer == covered_board ? scene.colours.board
                                                  : scene.blooms[static_cast<std::size_t>(offer)].colour,
                           share});
  return beside;
}

glm::dvec3 labOf(Colour colour) { return labFromXyz(xyzFromLinear(glm::dvec3(linearFromSrgb(colour)))); }

double standsOut(const glm::dvec3& lab, const std::vector<ColourBeside>& beside) {
  double squares = 0;
  double shares = 0;
  for (const ColourBeside& seen : beside) {
    squares += seen.share * std::pow(difference2000(lab, labOf(seen.colour)), 2);
    shares += seen.share;
  }
  return shares > 0 ? std::sqrt(squares / shares) : 0;
}

}  // namespace petalproof::fill
