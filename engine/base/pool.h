#pragma once
// Runs loops on several threads. A caller makes a Pool once, at the edge of the program, and passes it down;
// every parallel loop of the engine goes through Pool::forEach.

#include <cstddef>
#include <memory>
#include <vector>

namespace petalproof {

// The most threads that a caller may ask for on a machine with fewer: more would only cost memory.
constexpr int most_threads = 256;

// How many threads to start when a caller asks for `asked`: that many, even if the machine has fewer, up to
// the larger of most_threads and the machine's count. 0 or less: as many as the machine has.
int usableThreads(int asked);

// Of several pools with work to do, the program's threads serve those of a higher priority first.
enum class Priority { low, normal, high };

// A number of threads that work on loops at the same time: the thread that starts a loop, and threads that
// all pools of the program share. Safe to use from several threads at once. A loop may start other loops, of
// the same pool too. Where pools ask for more threads than the machine has, the least of these counts limits
// them all.
class Pool {
 public:
  // `threads`: see usableThreads.
  explicit Pool(int threads = 0, Priority priority = Priority::normal);
  ~Pool();
  Pool(const Pool&) = delete;
  Pool& operator=(const Pool&) = delete;

  // The most threads that work on a loop at the same time.
  int threads() const { return threads_; }

  // Calls body(k) for each k in [0, count), in parallel and in no order. An exception of a body ends the loop
  // and comes out of it.
  template <class Body>
  void forEach(std::size_t count, const Body& body) const {
    run(
        count,
        [](const void* called, std::size_t from, std::size_t to) {
          const Body& each = *static_cast<const Body*>(called);
          for (std::size_t k = from; k < to; ++k) each(k);
        },
        &body);
  }

  // Calls body(k, helper) likewise. Each stretch of iterations makes a Helper from `from` and reuses its
  // memory.
  template <class Helper, class From, class Body>
  void forEachWith(std::size_t count, const From& from, const Body& body) const {
    constexpr std::size_t stretch = 8;  // iterations that share a Helper: enough to repay making it
    forEach((count + stretch - 1) / stretch, [&](std::size_t part) {
      Helper helper(from);
      for (std::size_t k = part * stretch; k < count && k < (part + 1) * stretch; ++k) body(k, helper);
    });
  }

  // The place of the calling thread among the threads of this pool's loop that it is in, below threads().
  std::size_t place() const;

 private:
  // Calls a body for all k in [from, to).
  using Stretch = void (*)(const void* body, std::size_t from, std::size_t to);
  void run(std::size_t count, Stretch stretch, const void* body) const;

  struct Arena;
  int threads_;
  std::unique_ptr<Arena> arena_;  // null where the calling thread does all the work
};

// A value for each thread that a pool's loop has: memory that iterations reuse.
template <class T>
class PerThread {
 public:
  explicit PerThread(const Pool& pool) : pool_(&pool), values_(static_cast<std::size_t>(pool.threads())) {}
  // The calling thread's value. Call within a loop of the pool; a loop that the body starts may change it.
  T& mine() { return values_[pool_->place()].value; }

 private:
  static constexpr std::size_t cache_line = 64;  // bytes; threads that write to the same line wait in turn
  struct alignas(cache_line) Padded {
    T value;
  };
  const Pool* pool_;
  std::vector<Padded> values_;
};

}  // namespace petalproof
