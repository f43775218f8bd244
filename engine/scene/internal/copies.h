#pragma once
// The rules for the copies of a kind: mesh, turn and place of every bloom on the wall. The scene and
// FillerMaker share them, so that a tried filler hangs exactly like a planned filler.

#include "engine/base/hash.h"
#include "engine/scene/internal/kinds.h"
#include "engine/scene/mesh.h"

#include <glm/mat4x3.hpp>
#include <glm/vec2.hpp>

#include <cmath>
#include <cstdint>

namespace petalproof::scene {

// Copies of a kind share this many meshes, so that a large wall stays small in memory.
constexpr std::uint64_t variants_per_kind = 16;
constexpr double turn_sway_deg = 5.0;  // at a variation of 1; common practice, no source

inline double swayOf(double variation, std::uint64_t hash) {
  return variation * turn_sway_deg * (2.0 * unitFromHash(mixed(hash ^ 1)) - 1.0);
}

inline std::uint64_t variantOf(const Kind& kind, double variation, std::uint64_t hash) {
  return kind.from_file || variation <= 0 ? 0 : hash % variants_per_kind;
}

// The hash of a filler by its place, rounded to the hundredth of a millimetre, so that the place keeps its
// hash when it is written and read again.
inline std::uint64_t fillerHash(std::uint64_t seed, const glm::dvec2& from_corner_mm) {
  const auto rounded = [](double mm) { return static_cast<std::uint64_t>(std::llround(mm * 100.0)); };
  return hashOf({seed, rounded(from_corner_mm.x), rounded(from_corner_mm.y)});
}

glm::mat4x3 wallFromMesh(const glm::dvec2& at_mm, double raised_mm, double turn_deg);
Mesh meshOfVariant(const Kind& kind, const plan::Plan& plan, std::uint64_t variant);

}  // namespace petalproof::scene
