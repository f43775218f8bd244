#include "tests/bench/live_bench.h"

#include "engine/plan/read_plan.h"
#include "viewer/app/session.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <cstdio>
#include <memory>
#include <mutex>
#include <vector>

namespace petalproof::bench {
namespace {

using Clock = std::chrono::steady_clock;

double millisecondsSince(Clock::time_point start) {
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

// A session that sleeps until a worker has something, as the window does.
class Watched {
 public:
  explicit Watched(const std::shared_ptr<const plan::LoadedPlan>& plan) : session_(options()) {
    if (plan)
      session_.perform(app::StartWith{plan});
    else
      session_.perform(app::OpenDemo{});
  }

  const app::State& state() const { return session_.state(); }
  void perform(const app::Action& action) { session_.perform(action); }

  template <class Done>
  void waitFor(const Done& done) {
    while (!done(state())) {
      std::unique_lock lock(mutex_);
      news_.wait_for(lock, std::chrono::seconds(1), [&] { return woken_; });
      woken_ = false;
      lock.unlock();
      session_.poll();
    }
  }

 private:
  app::SessionOptions options() {
    app::SessionOptions options;
    options.assets = PETALPROOF_SOURCE_DIR "/assets";
    options.wake = [this] {
      {
        const std::lock_guard lock(mutex_);
        woken_ = true;
      }
      news_.notify_all();
    };
    return options;
  }

  std::mutex mutex_;
  std::condition_variable news_;
  bool woken_ = false;
  app::Session session_;
};

bool allInFull(const app::State& state) {
  const auto& shots = state.live.shots;
  return std::all_of(shots.begin(), shots.end(), [&](const app::ShotResult& shot) {
    return shot.full && shot.revision == state.now.revision;
  });
}

double share(const std::vector<double>& sorted, double of) {
  return sorted[static_cast<std::size_t>(of * static_cast<double>(sorted.size() - 1))];
}

constexpr int columns = 24;
constexpr int rows = 20;

// The demo's layouts on 480 panels; `own`: a copy of them for each.
std::shared_ptr<const plan::LoadedPlan> largeWall(bool own) {
  auto loaded = plan::loadPlan(PETALPROOF_SOURCE_DIR "/assets/plans/demo.toml");
  if (!loaded) return nullptr;
  plan::Plan& plan = loaded.value->plan;
  const Grid<plan::Cell> cells = plan.wall.grid;
  const std::vector<plan::Layout> layouts = plan.layouts;
  if (own) plan.layouts.clear();
  plan.wall.columns = columns;
  plan.wall.rows = rows;
  plan.wall.grid = Grid<plan::Cell>(columns, rows);
  for (int row = 0; row < rows; ++row)
    for (int column = 0; column < columns; ++column) {
      plan::Cell cell = cells.at(column % cells.columns(), row % cells.rows());
      if (own) {
        plan::Layout layout = *std::find_if(layouts.begin(), layouts.end(),
                                            [&](const plan::Layout& one) { return one.name == cell.layout; });
        layout.name = cell.layout = fmt::format("{} {} {}", cell.layout, column, row);
        plan.layouts.push_back(std::move(layout));
      }
      plan.wall.grid.at(column, row) = cell;
    }
  loaded.value->places = {};
  return std::make_shared<const plan::LoadedPlan>(std::move(*loaded.value));
}

void timeDragging(const char* name, const std::shared_ptr<const plan::LoadedPlan>& plan, int changes) {
  Watched watched(plan);
  const auto in_front = [](const app::State& state) { return app::isCurrent(state, state.shot); };
  if (!watched.state().hasPlan()) {
    fmt::print(stderr, "{}: {}\n", name, watched.state().notice);
    return;
  }
  watched.waitFor(in_front);
  std::vector<double> times;
  std::vector<double> of_hand;
  for (int k = 1; k <= std::max(1, changes); ++k) {
    const auto start = Clock::now();
    watched.perform(app::Edit{app::MoveBlooms{{{0, 0, 1}}, {{0.05 * k}, {0}}}, 1});
    of_hand.push_back(millisecondsSince(start));
    watched.waitFor(in_front);
    times.push_back(millisecondsSince(start));
  }
  std::sort(times.begin(), times.end());
  std::sort(of_hand.begin(), of_hand.end());
  fmt::print(
      "{}, a bloom dragged: change to gaps of the shot in front, 2 megapixels: median {:.1f} ms, 9 in 10 "
      "within "
      "{:.1f} ms; of that the hand's own thread {:.1f} ms\n",
      name, share(times, 0.5), share(times, 0.9), share(of_hand, 0.5));
  std::fflush(stdout);
  const auto start = Clock::now();
  watched.waitFor(allInFull);
  fmt::print("after rest, all shots checked and read in full: {:.1f} s\n", millisecondsSince(start) / 1000);
}

}  // namespace

void printLiveTimes(int changes, bool demo_only) {
  timeDragging("demo", nullptr, changes);
  if (demo_only) return;
  timeDragging("480 panels", largeWall(false), changes);
  timeDragging("480 panels, a layout each", largeWall(true), changes);
}

}  // namespace petalproof::bench
