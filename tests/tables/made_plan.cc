#include "tests/tables/made_plan.h"

#include "engine/plan/plan_defaults.h"
#include "engine/plan/shape_names.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <set>
#include <string>

namespace petalproof {
namespace {

constexpr std::array names{"Rose",
                           "=cmd",
                           "-dash",
                           "+plus",
                           "@at",
                           "Sum of parts",
                           "a, b; c",
                           "say \"hi\"",
                           "\u00e9t\u00e9",
                           "\u82b1",
                           "1.5",
                           "4 x 9",
                           "180",
                           "upside",
                           "A",
                           "B",
                           "1",
                           "2",
                           "sep=",
                           "3 in",
                           "bud #2",
                           "leaf (green)",
                           "tab\\",
                           "rose 12",
                           "4-Mar",
                           "no",
                           "x",
                           "Flower",
                           "Qty",
                           "Row",
                           "mud"};

class Maker {
 public:
  explicit Maker(std::uint64_t seed) : random_(seed) {}

  plan::Plan plan() {
    plan::Plan made;
    made.title = maybe() ? "Lantern Supper" : "Supper, with \"lanterns\"; late";
    made.units = std::array{Units::inch, Units::centimetre, Units::millimetre}[below(3)];
    for (int k = count(1, 8); k > 0; --k) made.blooms.push_back(bloom());
    names_.clear();
    for (int k = count(1, 5); k > 0; --k) made.layouts.push_back(layout(made));
    made.wall = wall(made);
    if (maybe())
      for (int k = count(1, 4); k > 0; --k) made.fillers.push_back({placement(made), maybe()});
    return made;
  }

 private:
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(random_() % n); }
  bool maybe() { return below(2) == 0; }
  int count(int min, int max) {
    return min + static_cast<int>(below(static_cast<std::size_t>(max - min + 1)));
  }

  double real(double min, double max) {
    const double value = std::uniform_real_distribution<double>(min, max)(random_);
    const std::array steps{1.0, 2.0, 8.0, 10.0, 64.0, 100.0};
    if (below(4) == 0) return value;
    const double step = steps[below(steps.size())];
    return std::clamp(std::round(value * step) / step, min, max);
  }

  std::string name() {
    for (;;) {
      const std::string candidate = names[below(names.size())];
      if (names_.insert(candidate).second) return candidate;
    }
  }

  plan::Bloom bloom() {
    plan::Bloom made;
    made.name = name();
    if (below(4) == 0) made.label = "for people: " + made.name;
    const plan::Shape shape = static_cast<plan::Shape>(below(plan::shapeNames().size()));
    if (below(6) == 0)
      made.form = plan::MeshFile{"meshes/my, own.obj"};
    else
      made.form = shape;
    made.diameter = {real(0.5, 90)};
    const bool is_mesh = std::holds_alternative<plan::MeshFile>(made.form);
    if (!is_mesh && plan::takesWidth(shape) && maybe()) made.width = Length{made.diameter.value / 3};
    if (maybe()) made.depth = Length{real(0.1, 9)};
    if (maybe()) made.plate = Length{made.diameter.value / 4};
    if (!is_mesh && maybe()) made.petals = count(1, 60);
    if (!is_mesh && maybe()) made.layers = count(1, 8);
    for (int k = count(1, 3); k > 0; --k)
      made.colours.push_back({static_cast<std::uint8_t>(k * 50), static_cast<std::uint8_t>(below(256)), 7});
    if (maybe()) made.card = {{"", real(0.1, 12)}};
    if (below(4) == 0) made.card = {{"rust, 80 lb", real(0.1, 9)}, {"gold foil", 0.5}};
    if (maybe()) made.strips = real(0, 5);
    if (maybe()) made.minutes = real(0, 90);
    made.filler = below(3) == 0;
    if (below(4) == 0) made.stock = count(0, 99);
    return made;
  }

  plan::Placement placement(const plan::Plan& plan) {
    plan::Placement made;
    made.bloom = plan.blooms[below(plan.blooms.size())].name;
    made.at = {{real(0, 20)}, {real(0, 20)}};
    return made;
  }

  plan::Layout layout(const plan::Plan& plan) {
    plan::Layout made{name(), {}};
    for (int k = count(1, 6); k > 0; --k) made.blooms.push_back(placement(plan));
    return made;
  }

  plan::Wall wall(const plan::Plan& plan) {
    plan::Wall made = plan::defaultWall(plan.units);
    made.columns = count(1, 6);
    made.rows = count(1, 5);
    made.panel = {{24}, {20}};
    made.grid = Grid<plan::Cell>(made.columns, made.rows);
    const std::size_t holes = below(4);
    for (plan::Cell& cell : made.grid.cells())
      if (below(4) >= holes) cell = {plan.layouts[below(plan.layouts.size())].name, maybe()};
    made.grid.at(count(0, made.columns - 1), count(0, made.rows - 1)) = {plan.layouts.front().name, maybe()};
    return made;
  }

  std::mt19937_64 random_;
  std::set<std::string> names_;
};

}  // namespace

plan::Plan madePlan(std::uint64_t seed) { return Maker(seed).plan(); }

}  // namespace petalproof
