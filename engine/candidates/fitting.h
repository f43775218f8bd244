#pragma once
// Where a filler would hide given places all at once, if it can: as a disc, or as a leaf along them. A guess
// by outline alone, to find candidates with.

#include "engine/candidates/scan.h"
#include "engine/scene/filler_maker.h"

#include <glm/vec2.hpp>

#include <optional>
#include <span>
#include <vector>

namespace petalproof::candidates {

struct EnclosingCircle {
  glm::dvec2 centre{0};
  double radius = 0;
};
// The smallest that holds all of the points; radius 0 for one or none. E. Welzl, "Smallest enclosing disks
// (balls and ellipsoids)", New Results and New Trends in Computer Science, 1991, with the points in the order
// given.
EnclosingCircle smallestCircle(std::span<const glm::dvec2> points);

// A filler of the kind about the places, on the board plane as seen head-on; none where they lie too far
// apart. Of several turns the one that leaves most room.
std::optional<Proposal> fitting(const scene::FillerMaker& maker, std::size_t kind,
                                std::span<const glm::dvec2> places);
// Of every kind that fits.
std::vector<Proposal> fittings(const scene::FillerMaker& maker, std::span<const glm::dvec2> places);

// Fillers moved, and leaves turned, until together they hide the places: each takes those that it comes
// nearest to hiding and moves to their middle, again and again (after S. P. Lloyd, "Least squares
// quantization in PCM", IEEE Transactions on Information Theory 28, 1982, for the farthest place in place of
// the mean). `room_mm`: by how much each must do with less than its size. None where they don't come to it.
std::optional<std::vector<Proposal>> shiftedTogether(const scene::FillerMaker& maker,
                                                     std::vector<Proposal> fillers,
                                                     std::span<const glm::dvec2> places, double room_mm);

// Two fillers that share the places: cut along lines of several directions. Those of the cuts that work.
std::vector<Proposal> fittingPairs(const scene::FillerMaker& maker, std::vector<glm::dvec2> places);

}  // namespace petalproof::candidates
