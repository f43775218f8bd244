#include "engine/base/pool.h"
#include "engine/base/stopping.h"

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

constexpr std::chrono::seconds longest_wait{20};

// Whether `wanted` threads work on a loop at the same time: each waits for the others, for a while.
bool workAtOnce(const Pool& pool, std::size_t wanted) {
  const auto until = std::chrono::steady_clock::now() + longest_wait;
  std::atomic<std::size_t> here{0};
  pool.forEach(wanted, [&](std::size_t) {
    ++here;
    while (here < wanted && std::chrono::steady_clock::now() < until) std::this_thread::yield();
  });
  return std::chrono::steady_clock::now() < until;
}

// Work that goes on in a thread of its own, in short steps on all threads of a pool.
class Background {
 public:
  explicit Background(const Pool& pool)
      : worker_([this, &pool](const std::stop_token& stop) {
          while (!stop.stop_requested())
            pool.forEach(1000, [this](std::size_t) {
              ++steps_;
              std::this_thread::sleep_for(std::chrono::microseconds(200));
            });
        }) {
    while (steps_ < 100) std::this_thread::yield();
  }
  int steps() const { return steps_; }

 private:
  std::atomic<int> steps_{0};
  std::jthread worker_;
};

}  // namespace

TEST_CASE("as many threads as asked for, by default as many as there are") {
  const int all = usableThreads(0);
  CHECK(all >= 1);
  CHECK(all <= static_cast<int>(std::thread::hardware_concurrency()));
  CHECK(usableThreads(-3) == all);
  CHECK(usableThreads(1) == 1);
  CHECK(usableThreads(7) == 7);
  CHECK(usableThreads(100'000) == std::max(256, all));
  CHECK(Pool().threads() == all);
  CHECK(Pool(7, Priority::low).threads() == 7);
}

TEST_CASE("seven threads do take part where seven are asked for, on a machine with fewer, too") {
  CHECK(workAtOnce(Pool(7), 7));
  CHECK(workAtOnce(Pool(2), 2));
}

TEST_CASE("no more threads take part than asked for") {
  const Pool pool(3);
  std::atomic<int> at_once{0};
  std::atomic<int> most{0};
  pool.forEach(300, [&](std::size_t) {
    const int now = ++at_once;
    for (int before = most; before < now && !most.compare_exchange_weak(before, now);) continue;
    std::this_thread::sleep_for(std::chrono::microseconds(100));
    --at_once;
  });
  CHECK(most <= 3);
  CHECK(most >= 1);
}

TEST_CASE("the calling thread does all the work, in turn, where one thread is asked for") {
  const Pool pool(1);
  std::set<std::thread::id> threads;
  std::vector<std::size_t> order;
  pool.forEach(1000, [&](std::size_t k) {
    threads.insert(std::this_thread::get_id());
    order.push_back(k);
  });
  CHECK(threads == std::set<std::thread::id>{std::this_thread::get_id()});
  CHECK(std::is_sorted(order.begin(), order.end()));
  CHECK(order.size() == 1000);
}

TEST_CASE("each index is visited once, and what was written is there afterwards") {
  for (const int asked : {0, 1, 5}) {
    const Pool pool(asked);
    for (const std::size_t count : {std::size_t{0}, std::size_t{1}, std::size_t{12345}}) {
      std::vector<int> visits(count, 0);
      pool.forEach(count, [&](std::size_t k) { ++visits[k]; });
      CHECK(visits == std::vector<int>(count, 1));
    }
  }
}

TEST_CASE("loops within loops, of the same pool and of others, visit each pair of indices once") {
  constexpr std::size_t side = 40;
  for (const int outer : {1, 2, 5})
    for (const int inner : {1, 2}) {
      const Pool pool(outer);
      const Pool other(inner);
      std::vector<int> visits(side * side, 0);
      pool.forEach(side, [&](std::size_t row) {
        pool.forEach(side, [&](std::size_t column) { ++visits[row * side + column]; });
        other.forEach(side, [&](std::size_t column) { ++visits[row * side + column]; });
      });
      CHECK(visits == std::vector<int>(side * side, 2));
    }
}

TEST_CASE("several threads may use a pool at once") {
  const Pool pool(2);
  constexpr std::size_t count = 2000;
  std::vector<std::vector<int>> visits(4, std::vector<int>(count, 0));
  {
    std::vector<std::jthread> callers;
    for (std::vector<int>& mine : visits)
      callers.emplace_back(
          [&pool, &mine] { pool.forEach(mine.size(), [&mine](std::size_t k) { ++mine[k]; }); });
  }
  CHECK(visits == std::vector<std::vector<int>>(4, std::vector<int>(count, 1)));
}

TEST_CASE("a helper is shared by a stretch of iterations and made from the value given") {
  struct Counter {
    explicit Counter(int from) : at(from) {}
    int at;
  };
  std::vector<int> counts(20, 0);
  Pool(3).forEachWith<Counter>(counts.size(), 100,
                               [&](std::size_t k, Counter& counter) { counts[k] = counter.at++; });
  for (std::size_t k = 0; k < counts.size(); ++k) CHECK(counts[k] == 100 + static_cast<int>(k % 8));
}

TEST_CASE("a value for each thread: all iterations are counted in one of at most that many") {
  for (const int threads : {1, 2, 5}) {
    const Pool pool(threads);
    PerThread<int> counted(pool);
    std::vector<std::atomic<int>> at_place(static_cast<std::size_t>(threads));
    pool.forEach(5000, [&](std::size_t) {
      REQUIRE(pool.place() < at_place.size());
      ++at_place[pool.place()];
      ++counted.mine();
    });
    int sum = 0;
    int by_place = 0;
    // A loop over all places at once would not be sure to visit each, so the sum is taken by the atomics.
    for (const std::atomic<int>& count : at_place) by_place += count;
    CHECK(by_place == 5000);
    pool.forEach(1, [&](std::size_t) { sum += counted.mine(); });
    if (threads == 1) CHECK(sum == 5000);
  }
}

TEST_CASE("an exception of a body comes out, and the pool works on") {
  for (const int threads : {1, 3}) {
    const Pool pool(threads);
    const auto failing = [&] {
      pool.forEach(100, [](std::size_t k) {
        if (k == 50) throw std::runtime_error("no");
      });
    };
    CHECK_THROWS_AS(failing(), std::runtime_error);
    std::atomic<int> visits{0};
    pool.forEach(100, [&](std::size_t) { ++visits; });
    CHECK(visits == 100);
  }
}

// With equal priorities the two pools would share the three threads that aren't their callers'.
TEST_CASE("a pool of high priority gets all threads while a pool of low priority is at work") {
  const Pool full(4, Priority::low);
  const Pool preview(4, Priority::high);
  const Background background(full);
  CHECK(workAtOnce(preview, 4));
  const int before = background.steps();
  CHECK(workAtOnce(preview, 4));
  const auto until = std::chrono::steady_clock::now() + longest_wait;
  while (background.steps() == before && std::chrono::steady_clock::now() < until) std::this_thread::yield();
  CHECK(background.steps() > before);  // and it goes on
}

TEST_CASE("a step ends once its caller has asked it to stop, whichever thread it runs on") {
  CHECK_NOTHROW(throwIfStopAsked({}));
  for (const int threads : {1, 4}) {
    const Pool pool(threads);
    std::stop_source source;
    CHECK_NOTHROW(throwIfStopAsked(source.get_token()));
    std::atomic<int> done{0};
    const auto work = [&pool, &done, stop = source.get_token(), &source] {
      pool.forEach(100'000, [&](std::size_t) {
        throwIfStopAsked(stop);
        if (++done == 1000) source.request_stop();
      });
    };
    CHECK_THROWS_AS(work(), Stopped);
    CHECK(done >= 1000);
    CHECK(done < 1000 + 2 * threads);
  }
}
