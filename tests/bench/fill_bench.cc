#include "tests/bench/fill_bench.h"

#include "engine/check/check.h"
#include "engine/fill/fill.h"
#include "engine/hands/fill_plan.h"
#include "engine/plan/read_plan.h"

#include <fmt/format.h>

#include <sys/resource.h>

#include <chrono>
#include <cmath>
#include <cstdio>

namespace petalproof::bench {
namespace {

constexpr int columns = 6;  // of the smallest wall; the others are `times` as wide and as high
constexpr int rows = 5;

// Of all threads.
double processorSeconds() {
  rusage used = {};
  getrusage(RUSAGE_SELF, &used);
  const auto seconds = [](const timeval& time) {
    return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
  };
  return seconds(used.ru_utime) + seconds(used.ru_stime);
}

// Farther off and with as many more pixels as the wall is larger, and looked at as a larger print: so that a
// gap is as large in it.
plan::Shot shotOf(const plan::Plan& plan, const char* name, double right, double out, int times) {
  const double width = plan.wall.panel.width.value * columns;
  const double middle = plan.wall.above_floor.value + plan.wall.panel.height.value * rows * times / 2;
  plan::Shot shot;
  shot.name = name;
  shot.megapixels = 6.0 * times * times;
  shot.aperture = 8;
  shot.camera_right = {right * width * times};
  shot.camera_above_floor = {middle};
  shot.camera_out = {out * width * times};
  shot.aim_above_floor = {middle};
  shot.looked_at = plan::LookedAt{"", {10.0 * times}, {13}};
  return shot;
}

plan::LoadedPlan wallOf(const plan::LoadedPlan& demo, int times) {
  plan::LoadedPlan made = demo;
  for (plan::Bloom& bloom : made.plan.blooms)
    if (bloom.stock) *bloom.stock *= times * times;
  plan::Wall& wall = made.plan.wall;
  const Grid<plan::Cell> cells = wall.grid;
  wall.columns = columns * times;
  wall.rows = rows * times;
  wall.room = {};
  wall.grid = Grid<plan::Cell>(wall.columns, wall.rows);
  for (int row = 0; row < wall.rows; ++row)
    for (int column = 0; column < wall.columns; ++column)
      wall.grid.at(column, row) = cells.at(column % cells.columns(), row % cells.rows());
  made.plan.shots = {shotOf(made.plan, "front", 0, 1.45, times), shotOf(made.plan, "side", 0.8, 1.3, times)};
  return made;
}

int gapsToHide(const check::Check& check) {
  int gaps = 0;
  for (const check::ShotCheck& shot : check.shots) {
    const check::ReadingCounts counts = check::countsOf(shot.readings);
    gaps += counts.show + counts.faint;
  }
  return gaps;
}

struct Timed {
  double gaps = 0;
  double seconds = 0;  // of processor time
};

Timed timeOne(const plan::LoadedPlan& plan) {
  fill::FillOptions options;
  options.walls = fill::CleanWalls{0, 1};
  const double before = processorSeconds();
  const auto start = std::chrono::steady_clock::now();
  const Result<fill::FillResult> result = hands::fillPlan(plan, Pool(), options);
  if (!result) return {};
  const std::chrono::duration<double> wall = std::chrono::steady_clock::now() - start;
  const Timed timed{static_cast<double>(gapsToHide(result.value->before)), processorSeconds() - before};
  fmt::print("{:>6} {:>7} {:>6.0f} {:>8} {:>9} {:>6} {:>10.1f} {:>13.1f}",
             plan.plan.wall.columns * plan.plan.wall.rows, result.value->before.shots.size(), timed.gaps,
             result.value->count, result.value->at_least, result.value->left.size(), wall.count(),
             timed.seconds);
  return timed;
}

double growth(const Timed& timed) { return timed.seconds / (timed.gaps * std::log(timed.gaps)); }

}  // namespace

int timeFilling(int panels) {
  const Result<plan::LoadedPlan> demo = plan::loadPlan(PETALPROOF_SOURCE_DIR "/assets/plans/demo.toml");
  if (!demo) return 1;
  fmt::print("{:>6} {:>7} {:>6} {:>8} {:>9} {:>6} {:>10} {:>13}   {}\n", "panels", "shots", "gaps", "fillers",
             "at least", "left", "time, s", "processor, s", "per n log n of gaps, the smallest wall 1");
  double first = 0;
  for (int times = 1; times * times * columns * rows <= panels; times *= 2) {
    const Timed timed = timeOne(wallOf(*demo.value, times));
    if (first == 0) first = growth(timed);
    fmt::print("   {:.2f}\n", growth(timed) / first);
    std::fflush(stdout);
  }
  return 0;
}

}  // namespace petalproof::bench
