#pragma once
// Work side by side, on as many threads as asked for.

#include <tbb/blocked_range.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <atomic>
#include <cstddef>
#include <optional>

namespace petalproof {

constexpr int most_threads = 256;  // that may be asked for, where the machine hasn't more

// How many threads to use where `asked` are wanted: that many, also more than the machine has, but no more
// than most_threads or the machine's own count, the larger. 0 or less: as many as the machine has.
int usableThreads(int asked);

// Threads that are kept from one piece of work to the next. Cheap to make: the threads themselves are shared.
class Workers {
 public:
  explicit Workers(int threads = 0);
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;

  // Calls work(); what forEach() is called for in it is shared among these threads.
  template <class Work>
  void run(const Work& work) {
    arena_.execute(work);
  }

 private:
  std::optional<tbb::global_control> more_than_the_machine_has_;
  tbb::task_arena arena_;
};

// body(k) for each k in [0, count), side by side, in no order. What happens before, in it and after is
// ordered by an atomic of our own: TBB's does so too, but the thread sanitizer can't see into the library.
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

// body(k, helper) likewise, with a Helper made from `from` for each stretch of work: room that is used again.
template <class Helper, class From, class Body>
void forEachWith(std::size_t count, const From& from, const Body& body) {
  constexpr std::size_t stretch = 8;
  forEach((count + stretch - 1) / stretch, [&](std::size_t part) {
    Helper helper(from);
    for (std::size_t k = part * stretch; k < count && k < (part + 1) * stretch; ++k) body(k, helper);
  });
}

}  // namespace petalproof
