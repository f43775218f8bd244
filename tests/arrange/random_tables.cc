#include "tests/arrange/random_tables.h"

#include "engine/base/hash.h"
#include "engine/plan/plan_defaults.h"
#include "engine/scene/shapes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

namespace petalproof::testing {
namespace {

class Draw {
 public:
  explicit Draw(std::uint64_t seed) : seed_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * unitFromHash(hashOf({seed_, ++drawn_}));
  }
  int whole(int low, int high) { return std::min(high, static_cast<int>(between(low, high + 1))); }
  bool chance(double share) { return between(0, 1) < share; }

 private:
  std::uint64_t seed_;
  std::uint64_t drawn_ = 0;
};

constexpr std::array<Colour, 12> palette{{{180, 83, 47},
                                          {227, 167, 155},
                                          {240, 226, 203},
                                          {109, 49, 72},
                                          {164, 69, 45},
                                          {217, 152, 58},
                                          {242, 214, 155},
                                          {200, 210, 203},
                                          {90, 60, 110},
                                          {205, 92, 120},
                                          {250, 245, 240},
                                          {70, 110, 150}}};
constexpr std::array<Colour, 3> greens{{{111, 125, 73}, {79, 106, 70}, {141, 159, 128}}};

plan::Wall wallOf(Draw& draw, TableSize size) {
  plan::Wall wall = plan::defaultWall(Units::inch);
  const bool small = size == TableSize::small;
  wall.columns = small ? draw.whole(2, 3) : draw.whole(3, 6);
  wall.rows = small ? draw.whole(1, 2) : draw.whole(3, 6);
  static constexpr std::array<std::array<double, 2>, 5> panels{
      {{24, 18}, {24, 20}, {20, 16}, {30, 20}, {24, 24}}};
  const auto& panel = panels[static_cast<std::size_t>(draw.whole(0, 4))];
  wall.panel = {{panel[0]}, {panel[1]}};
  wall.grid = Grid<plan::Cell>(wall.columns, wall.rows);
  static constexpr std::array<const char*, 5> names{"sun", "drift", "dusk", "hearth", "meadow"};
  const int layouts = small ? draw.whole(1, 2) : draw.whole(1, 5);
  const bool with_holes = draw.chance(0.15);
  for (plan::Cell& cell : wall.grid.cells()) {
    if (with_holes && draw.chance(0.06)) continue;
    cell = {names[static_cast<std::size_t>(draw.whole(0, layouts - 1))], draw.chance(0.3)};
  }
  wall.grid.at(0, 0).layout = names[0];
  return wall;
}

struct SizeClass {
  const char* name;
  int kinds_least;
  int kinds_most;
  double least;  // of the panel's shorter side
  double most;
  double share;  // of the board they fill
};

plan::Bloom bloomOf(Draw& draw, const SizeClass& size, double side, int number) {
  static constexpr std::array<plan::Shape, 9> round{
      plan::Shape::dahlia, plan::Shape::coneDahlia, plan::Shape::petalBloom,
      plan::Shape::peony,  plan::Shape::rose,       plan::Shape::rosette,
      plan::Shape::daisy,  plan::Shape::pompom,     plan::Shape::bud};
  static constexpr std::array<plan::Shape, 3> green{plan::Shape::leaf, plan::Shape::leafSpray,
                                                    plan::Shape::fern};
  const bool leafy = std::string(size.name) == "green";
  plan::Bloom bloom;
  bloom.name = std::string(size.name) + " " + std::to_string(number);
  bloom.form = leafy ? green[static_cast<std::size_t>(draw.whole(0, 2))]
                     : round[static_cast<std::size_t>(draw.whole(0, 8))];
  bloom.diameter = {std::round(4 * draw.between(size.least, size.most) * side) / 4};
  bloom.colours = {leafy ? greens[static_cast<std::size_t>(draw.whole(0, 2))]
                         : palette[static_cast<std::size_t>(draw.whole(0, 11))]};
  return bloom;
}

double fills(const plan::Bloom& bloom) {
  const scene::ShapeFacts& facts = scene::factsOf(std::get<plan::Shape>(bloom.form));
  const double d = bloom.diameter.value;
  return facts.has_width ? 0.5 * d * d * facts.width_share : pi / 4 * d * d;
}

}  // namespace

tables::ArrangeRequest randomTable(std::uint64_t seed, TableSize size) {
  return randomTable(seed, size, 1.2 + 0.25 * unitFromHash(hashOf({seed, 77})));
}

tables::ArrangeRequest randomTable(std::uint64_t seed, TableSize size, double density) {
  Draw draw(seed);
  tables::ArrangeRequest request;
  request.seed = seed;
  request.wall = wallOf(draw, size);
  const plan::Size& panel = request.wall.panel;
  const double side = std::min(panel.width.value, panel.height.value);
  const auto panels = std::count_if(request.wall.grid.cells().begin(), request.wall.grid.cells().end(),
                                    [](const plan::Cell& cell) { return cell.hasPanel(); });
  const double board = panel.width.value * panel.height.value * static_cast<double>(panels);
  static constexpr std::array<SizeClass, 4> classes{{{"large", 1, 3, 0.6, 0.85, 0.36},
                                                     {"medium", 2, 3, 0.42, 0.6, 0.31},
                                                     {"small", 2, 4, 0.22, 0.4, 0.23},
                                                     {"green", 1, 3, 0.4, 0.8, 0.1}}};
  for (const SizeClass& sizes : classes) {
    const int kinds = draw.whole(sizes.kinds_least, sizes.kinds_most);
    for (int k = 1; k <= kinds; ++k) {
      request.blooms.push_back(bloomOf(draw, sizes, side, k));
      const double wanted = density * sizes.share * board / kinds / fills(request.blooms.back());
      request.counts.push_back({request.blooms.back().name, std::max(1, static_cast<int>(wanted + 0.5)), ""});
    }
  }
  return request;
}

}  // namespace petalproof::testing
