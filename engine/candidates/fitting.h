#pragma once
// Fits a filler to given places: finds where it would hide all of them, as a disc or as a leaf along them. A
// guess by outline alone; the proposals for fewer fillers and the hands' search find candidates with it.

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
// The smallest circle that holds all points; radius 0 for a single point or none. E. Welzl, "Smallest
// enclosing disks (balls and ellipsoids)", New Results and New Trends in Computer Science, 1991, with the
// points in the order given.
EnclosingCircle smallestCircle(std::span<const glm::dvec2> points);

// A filler of the kind that hides the places, on the board plane as seen head-on; none where they lie too far
// apart. Of several turns the turn that leaves most room.
std::optional<Proposal> fitting(const scene::FillerMaker& maker, std::size_t kind,
                                std::span<const glm::dvec2> places);
// The same for every kind that fits.
std::vector<Proposal> fittings(const scene::FillerMaker& maker, std::span<const glm::dvec2> places);

// Pairs of fillers that share the places, which are cut along lines of several directions: the fillers of all
// cuts that work.
std::vector<Proposal> fittingPairs(const scene::FillerMaker& maker, std::vector<glm::dvec2> places);

}  // namespace petalproof::candidates
