#include "tests/bench/live_bench.h"

#include "viewer/app/session.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <condition_variable>
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
  Watched() : session_(options()) { session_.perform(app::OpenDemo{}); }

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

}  // namespace

void printLiveTimes(int pairs) {
  Watched watched;
  const auto in_front = [](const app::State& state) { return app::isCurrent(state, state.shot); };
  watched.waitFor(in_front);
  std::vector<double> times;
  for (int k = 1; k <= std::max(1, pairs); ++k) {
    const auto start = Clock::now();
    watched.perform(app::Edit{app::MoveBlooms{{{0, 0, 1}}, {{0.05 * k}, {0}}}, 1});
    watched.waitFor(in_front);
    times.push_back(millisecondsSince(start));
  }
  std::sort(times.begin(), times.end());
  fmt::print(
      "demo, a bloom dragged: change to gaps of the shot in front, 2 megapixels: median {:.1f} ms, 9 in 10 "
      "within {:.1f} ms\n",
      share(times, 0.5), share(times, 0.9));
  const auto start = Clock::now();
  watched.waitFor(allInFull);
  fmt::print("after rest, all shots checked and read in full: {:.1f} s\n", millisecondsSince(start) / 1000);
}

}  // namespace petalproof::bench
