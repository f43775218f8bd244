#pragma once
// A mesh's silhouette: its triangles projected from a camera onto the board plane z = 0, and the places that
// they hide. Candidates are tested with it.

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
// The silhouette seen head-on, by parallel rays.
Silhouette silhouetteHeadOn(const scene::Mesh& mesh, const glm::mat4x3& wallFromMesh);

// Whether the silhouette holds the place; edges count.
bool hides(const Silhouette& silhouette, glm::dvec2 place_mm);
// An empty set of places in the rectangle around the silhouette, in whole words: column0 is a multiple of 64.
PlaceBits frameOf(const Silhouette& silhouette, const PlaceGrid& grid);
// The places of the grid that the silhouette holds, in the rectangle of frameOf().
PlaceBits placesHidden(const Silhouette& silhouette, const PlaceGrid& grid);

// Twice the area of the triangle a b c, above 0 if it runs counter-clockwise.
double doubleArea(glm::dvec2 a, glm::dvec2 b, glm::dvec2 c);

}  // namespace petalproof::candidates
