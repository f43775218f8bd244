#include "engine/scene/handmade.h"

#include "engine/base/hash.h"
#include "engine/base/units.h"
#include "engine/scene/shapes.h"

#include <algorithm>
#include <cmath>
#include <variant>

namespace petalproof::scene {
namespace {

constexpr double most_deviations = 3;  // larger errors are mended while building
constexpr double least_scale = 0.05;   // keeps a bloom's mesh from turning inside out

// "hands" in ASCII: keeps these hashes apart from those of copies.
constexpr std::uint64_t hands_salt = 0x68616e6473ULL;

// Tells apart the errors of a bloom or panel.
enum : std::uint64_t {
  of_size = 1,
  of_depth,
  of_x,
  of_y,
  of_turn,
  of_hang_x,
  of_hang_y,
  of_out,
  of_tilt_x,
  of_tilt_y
};

// Normal, mean 0 and deviation 1, cut at three (G. Box, M. Muller, "A note on the generation of random normal
// deviates", Annals of Mathematical Statistics 29, 1958).
double normalFrom(std::uint64_t hash, std::uint64_t error) {
  const double u = 1 - unitFromHash(mixed(hash ^ (2 * error)));
  const double v = unitFromHash(mixed(hash ^ (2 * error + 1)));
  return std::clamp(std::sqrt(-2 * std::log(u)) * std::cos(2 * pi * v), -most_deviations, most_deviations);
}

double scaleFrom(std::uint64_t hash, std::uint64_t error, double deviation) {
  return std::max(least_scale, 1 + deviation * normalFrom(hash, error));
}

// A place as a whole number of sixteenths of a millimetre. The shift keeps places on tape marks away from the
// halves at which rounding turns.
std::uint64_t placeNumber(double mm) {
  constexpr double steps_per_mm = 16;
  constexpr double shift = 0.137;
  return static_cast<std::uint64_t>(std::llround(mm * steps_per_mm + shift));
}

}  // namespace

HandErrors times(const HandErrors& errors, double factor) {
  return {errors.bloom_size * factor, errors.bloom_depth * factor, errors.place_mm * factor,
          errors.turn_deg * factor,   errors.hang_mm * factor,     errors.step_mm * factor};
}

HandErrors handErrorsOf(const plan::Hands& hands, Units units) {
  return {hands.bloom_size,
          hands.bloom_depth,
          toMillimetres(hands.place, units),
          hands.turn_deg,
          toMillimetres(hands.hang, units),
          toMillimetres(hands.step, units)};
}

HandBuild::HandBuild(const Scene& scene, const HandErrors& errors, std::uint64_t seed, std::uint64_t build)
    : scene_(scene), errors_(errors), hash_(hashOf({seed, build, hands_salt})), fillers_hash_(hash_) {
  const PanelGrid& grid = scene.panels;
  const double half_variance = errors.step_mm * std::sqrt(0.5);
  for (int row = 0; row < grid.rows; ++row)
    for (int column = 0; column < grid.columns; ++column) {
      const std::uint64_t hash =
          hashOf({hash_, static_cast<std::uint64_t>(column), static_cast<std::uint64_t>(row)});
      PanelError error;
      error.hang_mm = glm::dvec2(normalFrom(hash, of_hang_x), normalFrom(hash, of_hang_y)) * errors.hang_mm;
      error.out_mm = half_variance * normalFrom(hash, of_out);
      error.tilt = {half_variance * normalFrom(hash, of_tilt_x) * 2 / grid.panel_width_mm,
                    half_variance * normalFrom(hash, of_tilt_y) * 2 / grid.panel_height_mm};
      error.middle = {grid.left_mm(column) + grid.panel_width_mm / 2,
                      grid.top_mm(row) - grid.panel_height_mm / 2};
      panels_.push_back(error);
    }
}

HandBuild HandBuild::withFillersHungAgain(std::uint64_t time) const {
  HandBuild again = *this;
  if (time > 0) again.fillers_hash_ = hashOf({hash_, time});
  return again;
}

HandBuild::Farthest HandBuild::farthest() const {
  return {most_deviations * errors_.bloom_size, most_deviations * errors_.bloom_depth,
          most_deviations * std::sqrt(2.0) * (errors_.place_mm + errors_.hang_mm) +
              2 * most_deviations * errors_.step_mm};
}

const HandBuild::PanelError* HandBuild::panelUnder(glm::dvec2 at_mm) const {
  const PanelGrid& grid = scene_.panels;
  return &panels_[static_cast<std::size_t>(grid.rowAt(at_mm.y) * grid.columns + grid.columnAt(at_mm.x))];
}

glm::mat4x3 HandBuild::comeOut(const glm::mat4x3& wallFromMesh, const PanelError* panel, std::uint64_t hash,
                               bool greenery) const {
  const double size = scaleFrom(hash, of_size, errors_.bloom_size);
  const double depth = scaleFrom(hash, of_depth, errors_.bloom_depth);
  const double turn = radians(greenery ? errors_.turn_deg * normalFrom(hash, of_turn)
                                       : 360 * unitFromHash(mixed(hash ^ of_turn)));
  const glm::dmat4x3 planned(wallFromMesh);
  const glm::dvec3 x = (planned[0] * std::cos(turn) + planned[1] * std::sin(turn)) * size;
  const glm::dvec3 y = (planned[1] * std::cos(turn) - planned[0] * std::sin(turn)) * size;
  const glm::dvec3 z = planned[2] * depth;
  glm::dvec3 at =
      planned[3] + glm::dvec3(normalFrom(hash, of_x), normalFrom(hash, of_y), 0.0) * errors_.place_mm;
  // A panel tilts by about a degree: lines on it keep their length.
  const auto tilted = [&](glm::dvec3 along) {
    along.z += glm::dot(panel->tilt, glm::dvec2(along));
    return along;
  };
  const glm::dvec3 out = z - glm::dvec3(panel->tilt, 0.0) * z.z;
  at.z += panel->out_mm + glm::dot(panel->tilt, glm::dvec2(at) - panel->middle);
  at += glm::dvec3(panel->hang_mm, 0.0);
  return glm::mat4x3(glm::dmat4x3(tilted(x), tilted(y), out, at));
}

glm::mat4x3 HandBuild::wallFromMesh(const BloomInstance& bloom, bool greenery) const {
  if (bloom.panel_column < 0) return wallFromFiller(bloom.wallFromMesh, bloom.at_mm, greenery);
  const std::uint64_t hash =
      hashOf({hash_, static_cast<std::uint64_t>(bloom.panel_column),
              static_cast<std::uint64_t>(bloom.panel_row), static_cast<std::uint64_t>(bloom.index)});
  const auto panel = static_cast<std::size_t>(bloom.panel_row * scene_.panels.columns + bloom.panel_column);
  return comeOut(bloom.wallFromMesh, &panels_[panel], hash, greenery);
}

glm::mat4x3 HandBuild::wallFromFiller(const glm::mat4x3& wallFromMesh, glm::dvec2 at_mm,
                                      bool greenery) const {
  const std::uint64_t hash = hashOf({fillers_hash_, placeNumber(at_mm.x), placeNumber(at_mm.y)});
  return comeOut(wallFromMesh, panelUnder(at_mm), hash, greenery);
}

std::vector<BloomInstance> builtBlooms(const Scene& scene, const HandBuild& build,
                                       const std::vector<char>& greenery) {
  std::vector<BloomInstance> built = scene.blooms;
  for (BloomInstance& bloom : built)
    bloom.wallFromMesh = build.wallFromMesh(bloom, greenery[static_cast<std::size_t>(bloom.kind)] != 0);
  return built;
}

std::vector<char> greeneryOf(const plan::Plan& plan) {
  std::vector<char> greenery;
  for (const plan::Bloom& bloom : plan.blooms) {
    const auto* shape = std::get_if<plan::Shape>(&bloom.form);
    greenery.push_back(shape != nullptr && factsOf(*shape).has_width ? 1 : 0);
  }
  return greenery;
}

}  // namespace petalproof::scene
