#pragma once
// Runs loops on several threads. Every parallel loop of the engine goes through Workers and forEach.

#include "engine/base/pool.h"

#include <tbb/blocked_range.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <atomic>
#include <cstddef>
#include <optional>

namespace petalproof {

// A limit on the number of threads for the work it runs. Cheap to make: all Workers share the program's
// threads.
class Workers {
 public:
  explicit Workers(int threads = 0);
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;

  // Calls work(); loops that work() starts with forEach() run on these threads.
  template <class Work>
  void run(const Work& work) {
    arena_.execute(work);
  }

 private:
  std::optional<tbb::global_control> more_than_the_machine_has_;
  tbb::task_arena arena_;
};

// Calls body(k) for each k in [0, count), in parallel and in no order. The atomic orders the code before,
// within and after the loop for the thread sanitizer, which can't see TBB's own synchronisation.
template <class Body>
void forEach(std::size_t count, const Body& body) {
  std::atomic<std::size_t> handover{0};
  tbb::parallel_for(tbb::blocked_range<std::size_t>(0, count),
                    [&](const tbb::blocked_range<std::size_t>& range) {
                      handover.fetch_add(1, std::memory_order_acq_rel);
                      for (std::size_t k = range.begin(); k < range.end(); ++k) body(k);
                      handover.fetch_add(1, std::memory_order_acq_rel);
                    });
  handover.load(std::memory_order_acquire);
}

// Calls body(k, helper) likewise. Each stretch of iterations makes a Helper from `from` and reuses its
// memory.
template <class Helper, class From, class Body>
void forEachWith(std::size_t count, const From& from, const Body& body) {
  constexpr std::size_t stretch = 8;  // iterations that share a Helper: enough to repay making it
  forEach((count + stretch - 1) / stretch, [&](std::size_t part) {
    Helper helper(from);
    for (std::size_t k = part * stretch; k < count && k < (part + 1) * stretch; ++k) body(k, helper);
  });
}

}  // namespace petalproof
