#pragma once
// Paper in larger pieces: triangles that share an edge and lie nearly in one plane, two at a time.

#include "engine/scene/mesh.h"

#include <array>
#include <cstdint>
#include <vector>

namespace petalproof::light {

using Quad = std::array<std::uint32_t, 4>;  // corners in order around it

struct JoinedPaper {
  std::vector<Quad> quads;             // convex
  std::vector<scene::Triangle> alone;  // triangles that found no partner
};

// Each triangle is in one piece. The flattest quads are taken first; the two diagonals of each pass each
// other at `bend_mm` at most.
JoinedPaper joinedPaper(const scene::Mesh& mesh, float bend_mm);

}  // namespace petalproof::light
