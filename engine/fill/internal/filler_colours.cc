#include "engine/fill/internal/filler_colours.h"

#include "engine/base/colour_difference.h"
#include "engine/fill/internal/filler_surroundings.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

namespace petalproof::fill {
namespace {

constexpr double clump_mm = 300;
// Differences by CIEDE2000.
constexpr double alike = 3;         // of colours that nobody tells apart on a wall
constexpr double twin = 5;          // of a filler's colour that looks like the large bloom's beside it
constexpr double beside_mm = 20;    // between the rims of blooms beside each other
constexpr double twin_cost = 100;   // more than any difference of colours
constexpr double clump_cost = 250;  // more than a twin and a difference
constexpr int most_sweeps = 20;
constexpr int most_recolourings = 200;  // to break up clumps
constexpr int steps_to_rest = 5;        // a recoloured filler keeps its colour for so many steps

// A colour that a filler may take.
struct Choice {
  Colour colour;
  glm::dvec3 lab{0};
  double cost = 0;         // without clumps
  std::size_t number = 0;  // equal for equal colours
};

// A filler as the colouring sees it.
struct Dot {
  glm::dvec2 at{0};
  std::vector<Choice> choices;  // old fillers have a single choice
  std::size_t chosen = 0;
  std::vector<std::size_t> near;  // other fillers within a clump's size
};

// The scene with the new fillers at its end, not coloured yet.
scene::Scene withFillers(const std::vector<candidates::Candidate>& fillers, const ColourTask& task) {
  scene::Scene scene = task.scene;
  for (const candidates::Candidate& filler : fillers) {
    const scene::FillerMaker::Hung hung =
        task.maker.hang(filler.kind, filler.site.from_corner_mm, filler.turn_deg);
    scene::BloomInstance bloom;
    bloom.mesh = static_cast<std::uint32_t>(scene.meshes.size());
    bloom.wallFromMesh = hung.wallFromMesh;
    bloom.at_mm = filler.site.board_mm;
    bloom.diameter_mm = task.maker.kinds()[filler.kind].diameter_mm;
    scene.meshes.push_back(*hung.mesh);
    scene.blooms.push_back(bloom);
  }
  return scene;
}

// The largest bloom beside a filler, if it is larger than the filler.
const scene::BloomInstance* largeBeside(const scene::Scene& scene, glm::dvec2 at, double diameter_mm) {
  const scene::BloomInstance* large = nullptr;
  for (const scene::BloomInstance& bloom : scene.blooms) {
    if (bloom.panel_column < 0 || bloom.diameter_mm <= diameter_mm) continue;
    const double between = glm::length(bloom.at_mm - at) - (bloom.diameter_mm + diameter_mm) / 2;
    if (between < beside_mm && (large == nullptr || bloom.diameter_mm > large->diameter_mm)) large = &bloom;
  }
  return large;
}

// The colours beside each filler; empty lists where no filler has a choice.
std::vector<std::vector<ColourBeside>> besideOf(const std::vector<candidates::Candidate>& fillers,
                                                const ColourTask& task) {
  const bool any_choice =
      std::any_of(fillers.begin(), fillers.end(), [&](const candidates::Candidate& filler) {
        return task.plan.blooms[static_cast<std::size_t>(task.maker.kinds()[filler.kind].kind)]
                   .colours.size() > 1;
      });
  if (!any_choice) return std::vector<std::vector<ColourBeside>>(fillers.size());
  return coloursBeside(withFillers(fillers, task), task.scene.blooms.size(), task.cameras, task.workers);
}

Dot dotOf(const candidates::Candidate& filler, const std::vector<ColourBeside>& beside,
          const ColourTask& task) {
  const scene::FillerKind& kind = task.maker.kinds()[filler.kind];
  const scene::BloomInstance* large = largeBeside(task.scene, filler.site.board_mm, kind.diameter_mm);
  Dot dot{filler.site.board_mm, {}, 0, {}};
  for (const Colour& colour : task.plan.blooms[static_cast<std::size_t>(kind.kind)].colours) {
    Choice choice{colour, labOf(colour), 0, 0};
    choice.cost = standsOut(choice.lab, beside);
    if (large != nullptr && difference2000(choice.lab, labOf(large->colour)) < twin) choice.cost += twin_cost;
    if (!dot.choices.empty() && choice.cost < dot.choices[dot.chosen].cost) dot.chosen = dot.choices.size();
    dot.choices.push_back(choice);
  }
  return dot;
}

// The colours of all fillers, changed one at a time to lower their total cost: the sum of the choices' costs
// and of the clumps' costs.
class Colouring {
 public:
  // Only the first `fillers` have a choice.
  Colouring(std::vector<Dot> dots, std::size_t fillers);
  const Colour& colourOf(std::size_t k) const { return chosenOf(k).colour; }
  // Recolours fillers until no change of a single filler lowers the cost.
  void settle();
  // If there are clumps then, goes on by changes that may raise the cost at first, and keeps the best.
  void getOutOfClumps();

 private:
  const Choice& chosenOf(std::size_t k) const { return dots_[k].choices[dots_[k].chosen]; }
  bool areAlike(std::size_t a, std::size_t b) const {
    return alike_[chosenOf(a).number * numbers_ + chosenOf(b).number] != 0;
  }
  int clumpsWith(std::size_t k) const;
  double costOf(std::size_t k) const { return chosenOf(k).cost + clump_cost * clumpsWith(k); }
  bool improve(std::size_t k);
  struct Change {
    std::size_t filler = 0;
    std::size_t choice = 0;
    double rise = 0;  // of the total cost
  };
  std::optional<Change> leastChange(const std::vector<int>& rests_until, int step);

  std::vector<Dot> dots_;
  std::size_t fillers_;
  std::size_t numbers_ = 0;  // of colours that differ
  std::vector<char> alike_;
};

Colouring::Colouring(std::vector<Dot> dots, std::size_t fillers) : dots_(std::move(dots)), fillers_(fillers) {
  std::vector<Choice> known;
  for (Dot& dot : dots_)
    for (Choice& choice : dot.choices) {
      const auto same = std::find_if(known.begin(), known.end(),
                                     [&](const Choice& other) { return other.colour == choice.colour; });
      choice.number = static_cast<std::size_t>(same - known.begin());
      if (same == known.end()) known.push_back(choice);
    }
  numbers_ = known.size();
  for (const Choice& a : known)
    for (const Choice& b : known) alike_.push_back(difference2000(a.lab, b.lab) < alike ? 1 : 0);
  for (std::size_t a = 0; a < dots_.size(); ++a)
    for (std::size_t b = 0; b < dots_.size(); ++b)
      if (a != b && glm::length(dots_[a].at - dots_[b].at) <= clump_mm) dots_[a].near.push_back(b);
}

int Colouring::clumpsWith(std::size_t k) const {
  std::vector<std::size_t> same;
  for (const std::size_t other : dots_[k].near)
    if (areAlike(other, k)) same.push_back(other);
  int clumps = 0;
  for (std::size_t a = 0; a < same.size(); ++a)
    for (std::size_t b = a + 1; b < same.size(); ++b)
      if (glm::length(dots_[same[a]].at - dots_[same[b]].at) <= clump_mm && areAlike(same[a], same[b]))
        ++clumps;
  return clumps;
}

// Gives a filler its best colour while all others stay; true if that is another colour.
bool Colouring::improve(std::size_t k) {
  Dot& dot = dots_[k];
  if (dot.choices.size() < 2) return false;
  const std::size_t before = dot.chosen;
  std::size_t best = before;
  double least = costOf(k);
  for (dot.chosen = 0; dot.chosen < dot.choices.size(); ++dot.chosen) {
    const double cost = costOf(k);
    if (cost >= least) continue;
    least = cost;
    best = dot.chosen;
  }
  dot.chosen = best;
  return best != before;
}

void Colouring::settle() {
  bool changed = true;
  for (int sweep = 0; changed && sweep < most_sweeps; ++sweep) {
    changed = false;
    for (std::size_t k = 0; k < fillers_; ++k) changed = improve(k) || changed;
  }
}

// The change that raises the cost least, of fillers in clumps that don't rest.
std::optional<Colouring::Change> Colouring::leastChange(const std::vector<int>& rests_until, int step) {
  std::optional<Change> least;
  for (std::size_t k = 0; k < fillers_; ++k) {
    if (dots_[k].choices.size() < 2 || rests_until[k] > step || clumpsWith(k) == 0) continue;
    const std::size_t before = dots_[k].chosen;
    const double cost = costOf(k);
    for (std::size_t choice = 0; choice < dots_[k].choices.size(); ++choice) {
      if (choice == before) continue;
      dots_[k].chosen = choice;
      const double rise = costOf(k) - cost;
      if (!least || rise < least->rise) least = Change{k, choice, rise};
    }
    dots_[k].chosen = before;
  }
  return least;
}

void Colouring::getOutOfClumps() {
  std::vector<int> rests_until(fillers_, 0);
  std::vector<Dot> best = dots_;
  constexpr double rounding = 1e-9;
  double rise = 0;  // of the cost since the start
  double least = 0;
  for (int step = 0; step < most_recolourings; ++step) {
    const auto change = leastChange(rests_until, step);
    if (!change) break;
    dots_[change->filler].chosen = change->choice;
    rests_until[change->filler] = step + steps_to_rest;
    rise += change->rise;
    if (rise > least - rounding) continue;
    least = rise;
    best = dots_;
  }
  dots_ = std::move(best);
  settle();
}

}  // namespace

std::vector<Colour> fillerColours(const std::vector<candidates::Candidate>& fillers, const ColourTask& task) {
  const auto beside = besideOf(fillers, task);
  std::vector<Dot> dots;
  for (std::size_t k = 0; k < fillers.size(); ++k) dots.push_back(dotOf(fillers[k], beside[k], task));
  for (const scene::BloomInstance& bloom : task.scene.blooms)
    if (bloom.panel_column < 0)
      dots.push_back({bloom.at_mm, {{bloom.colour, labOf(bloom.colour), 0, 0}}, 0, {}});
  Colouring colouring(std::move(dots), fillers.size());
  colouring.settle();
  colouring.getOutOfClumps();
  std::vector<Colour> colours;
  for (std::size_t k = 0; k < fillers.size(); ++k) colours.push_back(colouring.colourOf(k));
  return colours;
}

}  // namespace petalproof::fill
