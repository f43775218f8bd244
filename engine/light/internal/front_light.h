#pragma once
// The front light that all pictures share: an even sky and a broad soft lamp at the upper left, each with
// its colour and its share of the light on a flat board.

#include <glm/vec3.hpp>

#include <vector>

namespace petalproof::light {

constexpr float key_share = 0.58F;  // the broad lamp's, of the light on a flat board
constexpr glm::vec3 key_colour{1.03F, 1.0F, 0.95F};
constexpr glm::vec3 dome_colour{0.96F, 1.0F, 1.07F};

// Turns a spiral of directions from one to the next, so that they spread evenly.
double goldenAngle();

// Unit directions over the broad lamp's disc, evenly; `radius`: of the disc, at unit distance.
std::vector<glm::dvec3> keyDirections(int count, double radius);

}  // namespace petalproof::light
