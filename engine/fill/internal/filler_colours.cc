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
constexpr double alike = 3;        // CIEDE2000: nobody calls them two colours
constexpr double twin = 5;         // of the large bloom beside
constexpr double beside_mm = 20;   // between the rims
constexpr double twin_cost = 100;  // against differences, which are below it
constexpr double clump_cost = 250;
constexpr int most_sweeps = 20;
constexpr int most_recolourings = 200;  // out of clumps
constexpr int steps_to_rest = 5;        // for a filler that has changed

struct Choice {
  Colour colour;
  glm::dvec3 lab{0};
  double cost = 0;         // but for clumps
  std::size_t number = 0;  // of its colour
};

struct Dot {
  glm::dvec2 at{0};
  std::vector<Choice> choices;  // one for those that hang already
  std::size_t chosen = 0;
  std::vector<std::size_t> near;  // others within a clump's size
};

// The scene with the fillers, in colours that don't matter, at its end.
scene::Scene withFillers(const std::vector<candidates::Candidate>& fillers, const ColourTask& task) {
  scene::Scene scene = task.scene;
  for (const candidates::Candidate& one : fillers) {
    const scene::FillerMaker::Hung hung = task.maker.hang(one.kind, one.site.from_corner_mm, one.turn_deg);
    scene::BloomInstance bloom;
    bloom.mesh = static_cast<std::uint32_t>(scene.meshes.size());
    bloom.wallFromMesh = hung.wallFromMesh;
    bloom.at_mm = one.site.board_mm;
    bloom.diameter_mm = task.maker.kinds()[one.kind].diameter_mm;
    scene.meshes.push_back(*hung.mesh);
    scene.blooms.push_back(bloom);
  }
  return scene;
}

// The largest bloom beside a filler that is larger than it.
const scene::BloomInstance* largeBeside(const scene::Scene& scene, glm::dvec2 at, double diameter_mm) {
  const scene::BloomInstance* large = nullptr;
  for (const scene::BloomInstance& bloom : scene.blooms) {
    if (bloom.panel_column < 0 || bloom.diameter_mm <= diameter_mm) continue;
    const double between = glm::length(bloom.at_mm - at) - (bloom.diameter_mm + diameter_mm) / 2;
    if (between < beside_mm && (large == nullptr || bloom.diameter_mm > large->diameter_mm)) large = &bloom;
  }
  return large;
}

// Nothing where there is no choice to make.
std::vector<std::vector<ColourBeside>> besideOf(const std::vector<candidates::Candidate>& fillers,
                                                const ColourTask& task) {
  const bool any_choice = std::any_of(fillers.begin(), fillers.end(), [&](const candidates::Candidate& one) {
    return task.plan.blooms[static_cast<std::size_t>(task.maker.kinds()[one.kind].kind)].colours.size() > 1;
  });
  if (!any_choice) return std::vector<std::vector<ColourBeside>>(fillers.size());
  return coloursBeside(withFillers(fillers, task), task.scene.blooms.size(), task.cameras, task.threads);
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

// The colours of all, changed one at a time; what all cost together is the sum of what each costs and of its
// clumps.
class Colouring {
 public:
  // Only the first `fillers` have a choice.
  Colouring(std::vector<Dot> dots, std::size_t fillers);
  const Colour& colourOf(std::size_t k) const { return chosenOf(k).colour; }
  // To where no change of one filler's colour makes it better.
  void settle();
  // On from there, where there are clumps: ways that lead up first.
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
    double more = 0;  // that all cost
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

// The best for one while all others stay; true if that is another.
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

// Of those in clumps that don't rest.
std::optional<Colouring::Change> Colouring::leastChange(const std::vector<int>& rests_until, int step) {
  std::optional<Change> least;
  for (std::size_t k = 0; k < fillers_; ++k) {
    if (dots_[k].choices.size() < 2 || rests_until[k] > step || clumpsWith(k) == 0) continue;
    const std::size_t before = dots_[k].chosen;
    const double cost = costOf(k);
    for (std::size_t choice = 0; choice < dots_[k].choices.size(); ++choice) {
      if (choice == before) continue;
      dots_[k].chosen = choice;
      const double more = costOf(k) - cost;
      if (!least || more < least->more) least = Change{k, choice, more};
    }
    dots_[k].chosen = before;
  }
  return least;
}

void Colouring::getOutOfClumps() {
  std::vector<int> rests_until(fillers_, 0);
  std::vector<Dot> best = dots_;
  double cost = 0;  // more than at first
  double least = 0;
  for (int step = 0; step < most_recolourings; ++step) {
    const auto change = leastChange(rests_until, step);
    if (!change) break;
    dots_[change->filler].chosen = change->choice;
    rests_until[change->filler] = step + steps_to_rest;
    cost += change->more;
    if (cost > least - 1e-9) continue;
    least = cost;
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
