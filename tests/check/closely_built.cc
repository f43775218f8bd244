#include "tests/check/closely_built.h"

#include "engine/arrange/arrange.h"
#include "engine/plan/default_shots.h"
#include "engine/plan/plan_defaults.h"

namespace petalproof::testing {
namespace {

struct Kind {
  const char* name;
  plan::Shape shape;
  double inches;
  std::size_t colour;  // of the palette's four; the fifth is the leaf's
  int count;
  bool filler;
};

constexpr Kind kinds[] = {
    {"dahlia", plan::Shape::dahlia, 15, 0, 33, false}, {"peony", plan::Shape::peony, 12, 1, 33, false},
    {"cup", plan::Shape::petalBloom, 9, 2, 65, false}, {"rosette", plan::Shape::rosette, 7, 3, 98, false},
    {"rose", plan::Shape::rose, 5, 0, 164, true},      {"bud", plan::Shape::bud, 3.5, 2, 164, true},
    {"leaf", plan::Shape::leaf, 9, 4, 164, true},
};

}  // namespace

plan::LoadedPlan closelyBuiltPlan(const PaperPalette& palette, std::uint64_t seed) {
  plan::Plan plan;
  plan.title = "Closely built";
  plan.seed = seed;
  plan.wall = plan::defaultWall(Units::inch);
  plan.wall.columns = 5;
  plan.wall.rows = 6;
  plan.wall.panel = {{22}, {17}};
  plan.wall.above_floor = {10};
  tables::ArrangeRequest request;
  request.wall = plan.wall;
  request.seed = seed;
  for (const Kind& kind : kinds) {
    plan::Bloom bloom;
    bloom.name = kind.name;
    bloom.form = kind.shape;
    bloom.diameter = {kind.inches};
    bloom.colours = {kind.colour < palette.blooms.size() ? palette.blooms[kind.colour] : palette.leaf};
    request.counts.push_back({bloom.name, kind.count, ""});
    request.blooms.push_back(bloom);
    bloom.filler = kind.filler;
    plan.blooms.push_back(bloom);
  }
  arrange::Arrangement arranged = arrange::arrange(request);
  plan.layouts = std::move(arranged.layouts);
  plan.wall.grid = std::move(arranged.grid);
  const std::vector<plan::Shot> shots = plan::defaultShots(plan);
  plan.shots = {shots.front(), shots.back()};
  plan::LoadedPlan loaded;
  loaded.plan = std::move(plan);
  loaded.file = "made-up.toml";
  return loaded;
}

}  // namespace petalproof::testing
