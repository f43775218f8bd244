#pragma once
// What a filler hides of the board plane from one camera: its mesh thrown from the camera onto z = 0.

#include "engine/candidates/internal/place_grid.h"
#include "engine/scene/mesh.h"

#include <glm/mat4x3.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <span>
#include <vector>

namespace petalproof::candidates {

// A mesh's triangles on the board plane, in mm. Triangles that reach the camera's own height are left out.
struct Silhouette {
  std::vector<glm::dvec2> corners;
  std::vector<scene::Triangle> triangles;
  glm::dvec2 min_mm{0};
  glm::dvec2 max_mm{0};
};

Silhouette silhouetteFrom(const glm::dvec3& eye, const scene::Mesh& mesh, const glm::mat4x3& wallFromMesh);
// Seen head-on: parallel rays.
Silhouette silhouetteHeadOn(const scene::Mesh& mesh, const glm::mat4x3& wallFromMesh);

// A place on an edge is hidden.
bool hides(const Silhouette& silhouette, glm::dvec2 place_mm);
// No place yet of the rectangle that it lies in, in whole words: column0 is a multiple of 64.
PlaceBits frameOf(const Silhouette& silhouette, const PlaceGrid& grid);
// In the same rectangle.
PlaceBits placesHidden(const Silhouette& silhouette, const PlaceGrid& grid);

// Twice the area of a b c, above 0 counter-clockwise.
double doubleArea(glm::dvec2 a, glm::dvec2 b, glm::dvec2 c);

// Calls take(row, from, to, triangle) for each run [from, to) of places of a row that a triangle holds; one
// that returns false ends it.
template <class Take>
void forEachRun(const Silhouette& silhouette, const PlaceGrid& grid, const Take& take);

}  // namespace petalproof::candidates

#include "engine/candidates/internal/silhouette_runs.h"
