#include "engine/candidates/proposals.h"

#include "engine/base/units.h"

#include <glm/common.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace petalproof::candidates {
namespace {

// Options of a scan over a finer grid of sites than usual.
ScanOptions closeLook(const SearchTask& task, double pitch_mm, float least_worth) {
  ScanOptions options;
  options.seed = task.seed;
  options.pitch_mm = pitch_mm * coarsenessOf(task.sites.grid());
  options.turns = 24;
  options.each_cell = 6;
  options.least_worth = least_worth;
  return options;
}

// Half of a filler's diameter, less what rounding to the tape takes off.
double latticeRadius(const SearchTask& task, std::size_t kind) {
  return task.maker.kinds()[kind].diameter_mm / 2 - 1.5 * task.sites.tapeStep_mm() / 2;
}

// A lattice of fillers that are hardly larger than a step of the tape, or of very many, is no start of a
// search.
bool isWorthALattice(const SearchTask& task, std::size_t kind) {
  constexpr double most_fillers = 100'000;
  const double radius = latticeRadius(task, kind);
  if (radius < task.sites.tapeStep_mm()) return false;
  const double each_mm2 = 1.5 * std::sqrt(3.0) * radius * radius;
  return task.scene.panels.width_mm() * task.scene.panels.height_mm() < most_fillers * each_mm2;
}

// Whether an eye sees so wide a bare area that a filler of the kind would hide little else.
bool isWide(const SearchTask& task, const MustHide& all, std::size_t kind, double widest) {
  constexpr double least_fillers = 8;   // that a lattice must be good for
  constexpr double nearly_whole = 0.8;  // of a filler's own area must be bare where most is
  const PlaceGrid& grid = task.sites.grid();
  const double area = pi / 4 * std::pow(task.maker.kinds()[kind].diameter_mm, 2) / std::pow(grid.pitch_mm, 2);
  return std::any_of(all.eyes.begin(), all.eyes.end(), [&](const Eye& eye) {
    double places = 0;
    for (const std::uint64_t word : eye.places.bits) places += __builtin_popcountll(word);
    return places > least_fillers * area && widest > nearly_whole * area;
  });
}

// The bounds of the places where a filler's middle may be, by the wall's outer edges alone.
std::pair<glm::dvec2, glm::dvec2> withinEdges(const SearchTask& task, std::size_t kind) {
  const double diameter = task.maker.kinds()[kind].diameter_mm;
  const double plate = task.maker.kinds()[kind].plate_mm / 2;
  const double step = task.sites.tapeStep_mm();  // to which places are rounded
  const double side = std::max(plate, diameter / 2 - diameter * hang_at_side) + step;
  const double bottom = std::max(plate, diameter / 2 - diameter * hang_at_bottom) + step;
  const glm::dvec2 wall{task.scene.panels.width_mm(), task.scene.panels.height_mm()};
  return {glm::min(glm::dvec2(side, bottom), wall / 2.0), glm::max(wall - side, wall / 2.0)};
}

std::vector<Proposal> lattice(const SearchTask& task, std::size_t kind, glm::dvec2 phase, bool upright) {
  const double radius = latticeRadius(task, kind);
  const double across = std::sqrt(3.0) * radius;
  const double down = 1.5 * radius;
  const glm::dvec2 wall{task.scene.panels.width_mm(), task.scene.panels.height_mm()};
  const glm::dvec2 size = upright ? glm::dvec2(wall.y, wall.x) : wall;
  const auto [low, high] = withinEdges(task, kind);
  std::vector<Proposal> proposals;
  for (int row = 0; row * down <= size.y + 2 * radius; ++row)
    for (int column = 0; column * across <= size.x + 2 * radius; ++column) {
      const double u = phase.x * across + (column + (row % 2) * 0.5 - 0.5) * across;
      const double v = phase.y * down + (row - 0.25) * down;
      const glm::dvec2 at = upright ? glm::dvec2(v, u) : glm::dvec2(u, v);
      proposals.push_back({kind, glm::clamp(at, low, high), 0, 0});
    }
  return proposals;
}

}  // namespace

std::vector<Proposal> proposeAllOver(const SearchTask& task, const MustHide& all, double cell_mm) {
  const PlaceGrid& grid = task.sites.grid();
  WantedMap wanted(grid, cell_mm);
  for (const Eye& eye : all.eyes) {
    for (int row = 0; row < eye.places.rows; ++row)
      for (int column = 0; column < eye.places.columns; ++column)
        if (eye.places.has(column, row)) wanted.add({grid.x.at(column), grid.y.at(row)}, 1);
    for (const glm::dvec2& place : eye.others) wanted.add(place, 1);
  }
  ScanOptions options;
  options.seed = task.seed;
  options.pitch_mm *= coarsenessOf(task.sites.grid());
  return scanSites(task, std::move(wanted), options);
}

std::vector<Proposal> proposeByPrice(const SearchTask& task, const CandidatePool& pool, const PairList& pairs,
                                     const std::vector<std::uint32_t>& chosen, double cell_mm) {
  std::vector<std::uint16_t> times(pairs.size(), 0);
  for (const std::uint32_t k : chosen)
    for (const std::uint32_t pair : pool.covers(k)) ++times[pair];
  WantedMap wanted(task.sites.grid(), cell_mm);
  for (const std::uint32_t k : chosen) {
    const std::vector<std::uint32_t>& covers = pool.covers(k);
    const auto alone =
        std::count_if(covers.begin(), covers.end(), [&](std::uint32_t pair) { return times[pair] == 1; });
    for (const std::uint32_t pair : covers)
      if (times[pair] == 1) wanted.add(pairs.at(pair), 1.0F / static_cast<float>(alone));
  }
  constexpr double pitch_mm = 5;
  constexpr float least_worth = 0.8F;  // a little less than a filler costs: other proposals may add to it
  return scanSites(task, std::move(wanted), closeLook(task, pitch_mm, least_worth));
}

std::vector<Proposal> proposeNear(const SearchTask& task, const CandidatePool& pool,
                                  const std::vector<std::uint32_t>& chosen) {
  std::vector<Proposal> proposals;
  const double step = task.sites.tapeStep_mm();
  for (const std::uint32_t k : chosen) {
    const Candidate& filler = pool[k];
    const double reach = pool.kindOf(k).diameter_mm / 24;
    for (const double far : {step, std::max(2 * step, reach), std::max(4 * step, 2.5 * reach)})
      for (int direction = 0; direction < 8; ++direction) {
        const double a = pi / 4 * direction;
        const glm::dvec2 at = filler.site.board_mm + glm::dvec2(std::cos(a), std::sin(a)) * far;
        proposals.push_back({filler.kind, at, filler.turn_deg, 0});
      }
    for (const int turn : {-20, -8, 8, 20})
      proposals.push_back(
          {filler.kind, filler.site.board_mm, ((filler.turn_deg + turn) % 360 + 360) % 360, 0});
  }
  return proposals;
}

std::vector<Proposal> proposeFor(const SearchTask& task, const std::vector<glm::dvec2>& places,
                                 double cell_mm) {
  if (places.empty()) return {};
  WantedMap wanted(task.sites.grid(), cell_mm);
  for (const glm::dvec2& place : places) wanted.add(place, 1);
  constexpr double pitch_mm = 3;
  return scanSites(task, std::move(wanted), closeLook(task, pitch_mm, 0));
}

std::vector<std::vector<Proposal>> proposeLattices(const SearchTask& task, const MustHide& all,
                                                   double widest) {
  std::vector<std::vector<Proposal>> lattices;
  for (std::size_t kind = 0; kind < task.maker.kinds().size(); ++kind) {
    if (task.maker.kinds()[kind].greenery || !isWorthALattice(task, kind) || !isWide(task, all, kind, widest))
      continue;
    for (const double x : {0.0, 0.25, 0.5, 0.75})
      for (const double y : {0.0, 0.33, 0.66})
        for (const bool upright : {false, true}) lattices.push_back(lattice(task, kind, {x, y}, upright));
  }
  return lattices;
}

}  // namespace petalproof::candidates
