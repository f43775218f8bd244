#include "engine/base/threads.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <set>
#include <stdexcept>
#include <thread>
#include <vector>

using namespace petalproof;

namespace {

// How many of `wanted` threads are at work at the same time: each waits for the others, for a while.
int threadsAtOnce(int asked, std::size_t wanted) {
  const auto until = std::chrono::steady_clock::now() + std::chrono::seconds(20);
  std::atomic<std::size_t> here{0};
  Workers workers(asked);
  workers.run([&] {
    forEach(wanted, [&](std::size_t) {
      ++here;
      while (here < wanted && std::chrono::steady_clock::now() < until) std::this_thread::yield();
    });
  });
  return std::chrono::steady_clock::now() < until ? static_cast<int>(wanted) : 0;
}

}  // namespace

TEST_CASE("as many threads as asked for, by default as many as there are") {
  const int all = usableThreads(0);
  CHECK(all >= 1);
  CHECK(all <= static_cast<int>(std::thread::hardware_concurrency()));
  CHECK(usableThreads(-3) == all);
  CHECK(usableThreads(1) == 1);
  CHECK(usableThreads(7) == 7);
  CHECK(usableThreads(100'000) == std::max(256, all));
}

TEST_CASE("seven threads do take part where seven are asked for, on a machine with fewer, too") {
  CHECK(threadsAtOnce(7, 7) == 7);
  CHECK(threadsAtOnce(2, 2) == 2);
}

TEST_CASE("one thread does all the work, in turn, where one is asked for") {
  Workers workers(1);
  std::set<std::thread::id> threads;
  workers.run([&] { forEach(1000, [&](std::size_t) { threads.insert(std::this_thread::get_id()); }); });
  CHECK(threads.size() == 1);
}

TEST_CASE("each index is visited once, and what was written is there afterwards") {
  for (const int asked : {0, 1, 5}) {
    Workers workers(asked);
    for (const std::size_t count : {std::size_t{0}, std::size_t{1}, std::size_t{12345}}) {
      std::vector<int> visits(count, 0);
      workers.run([&] { forEach(count, [&](std::size_t k) { ++visits[k]; }); });
      CHECK(visits == std::vector<int>(count, 1));
    }
  }
}

TEST_CASE("what one body throws comes out") {
  Workers workers(3);
  CHECK_THROWS_AS(workers.run([] {
    forEach(100, [](std::size_t k) {
      if (k == 50) throw std::runtime_error("no");
    });
  }),
                  std::runtime_error);
}
