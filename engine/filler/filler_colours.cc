#include "engine/filler/internal/filler_colours.h"

#include "engine/base/colour_difference.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

constexpr double clump_mm = 300;
constexpr double around_mm = 200;  // what a colour is chosen to go with
constexpr double alike = 3;        // CIEDE2000: nobody calls them two colours
constexpr double twin = 5;         // of the large bloom beside
constexpr double beside_mm = 20;   // between the rims
constexpr double twin_cost = 100;  // against differences, which are below it
constexpr double clump_cost = 250;
constexpr int sweeps = 3;

struct Dot {
  glm::dvec2 at{0};
  double diameter = 0;
  glm::dvec3 lab{0};
  Colour colour;
};

glm::dvec3 labOf(Colour colour) { return labFromXyz(xyzFromLinear(glm::dvec3(linearFromSrgb(colour)))); }

struct Surroundings {
  glm::dvec3 mean{0};
  bool any = false;
  const Dot* large = nullptr;  // the largest bloom beside it that is larger
};

Surroundings around(const Dot& filler, const std::vector<Dot>& blooms) {
  Surroundings found;
  double weights = 0;
  for (const Dot& bloom : blooms) {
    const double apart = glm::length(bloom.at - filler.at) - bloom.diameter / 2;
    if (apart > around_mm) continue;
    const double weight = bloom.diameter * bloom.diameter / (1 + std::pow(std::max(0.0, apart) / 60, 2));
    found.mean += bloom.lab * weight;
    weights += weight;
    const bool beside = apart < filler.diameter / 2 + beside_mm && bloom.diameter > filler.diameter;
    if (beside && (found.large == nullptr || bloom.diameter > found.large->diameter)) found.large = &bloom;
  }
  found.any = weights > 0;
  if (found.any) found.mean /= weights;
  return found;
}

// Whether it would be the third of a clump.
bool makesClump(const std::vector<Dot>& fillers, std::size_t number, const glm::dvec3& lab) {
  std::vector<const Dot*> near;
  for (std::size_t k = 0; k < fillers.size(); ++k)
    if (k != number && glm::length(fillers[k].at - fillers[number].at) <= clump_mm &&
        difference2000(fillers[k].lab, lab) < alike)
      near.push_back(&fillers[k]);
  for (std::size_t a = 0; a < near.size(); ++a)
    for (std::size_t b = a + 1; b < near.size(); ++b)
      if (glm::length(near[a]->at - near[b]->at) <= clump_mm) return true;
  return false;
}

std::vector<Dot> dotsOf(const Scene& scene, bool fillers) {
  std::vector<Dot> dots;
  for (const BloomInstance& bloom : scene.blooms)
    if ((bloom.panel_column < 0) == fillers)
      dots.push_back({bloom.at_mm, bloom.diameter_mm, labOf(bloom.colour), bloom.colour});
  return dots;
}

}  // namespace

std::vector<Colour> fillerColours(const std::vector<Candidate>& fillers, const Plan& plan, const Scene& scene,
                                  const FillerMaker& maker) {
  const std::vector<Dot> blooms = dotsOf(scene, false);
  std::vector<Dot> dots;
  for (const Candidate& one : fillers) {
    const FillerKind& kind = maker.kinds()[one.kind];
    const Colour first = plan.blooms[static_cast<std::size_t>(kind.kind)].colours.front();
    dots.push_back({one.site.board_mm, kind.diameter_mm, labOf(first), first});
  }
  const std::vector<Dot> old = dotsOf(scene, true);
  dots.insert(dots.end(), old.begin(), old.end());
  std::vector<Surroundings> surroundings;
  for (std::size_t k = 0; k < fillers.size(); ++k) surroundings.push_back(around(dots[k], blooms));
  for (int sweep = 0; sweep < sweeps; ++sweep)
    for (std::size_t k = 0; k < fillers.size(); ++k) {
      const Surroundings& near = surroundings[k];
      const FillerKind& kind = maker.kinds()[fillers[k].kind];
      double least = 1e300;
      Dot best = dots[k];
      for (const Colour& colour : plan.blooms[static_cast<std::size_t>(kind.kind)].colours) {
        const glm::dvec3 lab = labOf(colour);
        double cost = near.any ? difference2000(lab, near.mean) : 0;
        if (near.large != nullptr && difference2000(lab, near.large->lab) < twin) cost += twin_cost;
        if (makesClump(dots, k, lab)) cost += clump_cost;
        if (cost >= least) continue;
        least = cost;
        best.lab = lab;
        best.colour = colour;
      }
      dots[k] = best;
    }
  std::vector<Colour> colours;
  for (std::size_t k = 0; k < fillers.size(); ++k) colours.push_back(dots[k].colour);
  return colours;
}

}  // namespace petalproof
